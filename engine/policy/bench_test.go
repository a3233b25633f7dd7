package policy

import (
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"backpitch/engine/profile"
)

const tooFlatTest = `package rules.drain.too_flat_test

import data.rules.drain.too_flat

profile := {"drain": {"min_slope": {"DN 50": 20833}}}

test_pass if too_flat.verdict.d.outcome == "pass" with input as {"drains": [{"id": "d", "size": "DN 50", "slope": 30000}]} with data.profile as profile

test_not_subject if count(too_flat.subject) == 0 with input as {"drains": [{"id": "d", "lie": "vertical"}]}

test_again if too_flat.verdict.d.outcome == "pass" with input as {"drains": [{"id": "d", "size": "DN 50", "slope": 30000}]} with data.profile as profile
`

// aUnit is the sound rule on the bench, with its tests.
func aUnit(t *testing.T) *Unit {
	t.Helper()
	fsys := policiesFS(t, map[string]string{"drain/too_flat": tooFlat, "drain/too_flat_test": tooFlatTest})
	b, err := NewBench(fsys, "p")
	if err != nil {
		t.Fatal(err)
	}
	units := b.Units()
	if len(units) != 1 || units[0].ID != "drain/too_flat" {
		t.Fatalf("units are %v", units)
	}
	return units[0]
}

func TestSeedsAreTheFactsOfTheTests(t *testing.T) {
	got, err := aUnit(t).Seeds(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	want := []any{
		map[string]any{"drains": []any{map[string]any{"id": "d", "size": "DN 50", "slope": int64(30000)}}},
		map[string]any{"drains": []any{map[string]any{"id": "d", "lie": "vertical"}}},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("Seeds (-want +got):\n%s", diff)
	}
}

// A trial gives the verdict that Prepared gives.
func TestTrialJudgesAsPreparedDoes(t *testing.T) {
	fsys := policiesFS(t, map[string]string{"drain/too_flat": tooFlat})
	p, err := profile.Load(fsys, "p")
	if err != nil {
		t.Fatal(err)
	}
	trial := aUnit(t).Under(p)
	for slope, want := range map[int64]string{20833: "pass", 20830: "fail"} {
		list, err := trial.Judge(t.Context(), map[string]any{"drains": []any{map[string]any{"id": "d", "size": "DN 50", "slope": slope}}})
		if err != nil || len(list) != 1 || string(list[0].Outcome) != want {
			t.Errorf("slope %d: %v, %v; want %s", slope, list, err, want)
		}
	}
	list, err := trial.Judge(t.Context(), map[string]any{"drains": []any{map[string]any{"id": "d", "slope": int64(5)}}})
	if err != nil || len(list) != 1 || strings.Join(list[0].Missing, " ") != "size" {
		t.Errorf("without size: %+v, %v", list, err)
	}
}

func TestMutants(t *testing.T) {
	u := aUnit(t)
	var got []string
	for _, m := range u.Mutants() {
		got = append(got, m.Change())
	}
	want := []string{
		"without the condition some p in input.drains",
		"without not",
		`without the condition not p.lie == "vertical"`,
		"== becomes !=",
		`"vertical" becomes "not_vertical"`,
		"judge.at_least becomes judge.at_most",
		`judge.at_least(p.slope, limit) becomes judge.not_required("it always passes")`,
		"without the condition some id, p in subject",
		"without the condition limit := data.profile.drain.min_slope[p.size]",
		"data.profile.drain.min_slope becomes data.profile.no_such.table",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("Mutants (-want +got):\n%s", diff)
	}
	if u.FirstFailing(t.Context()) != "" {
		t.Fatal("the sound rule fails its tests")
	}
	for _, m := range u.Mutants() {
		changed := u.Mutate(m)
		refused := strings.Contains(m.Change(), "some ") || strings.Contains(m.Change(), "limit :=")
		if (changed == nil) != refused {
			t.Errorf("%s: compiles is %v", m.Change(), changed != nil)
		}
	}
	// Its tests have no drain that is too flat: a rule that always passes is
	// not found out.
	for _, m := range u.Mutants() {
		if strings.HasSuffix(m.Is, `("it always passes")`) && u.Mutate(m).FirstFailing(t.Context()) != "" {
			t.Error("a rule that always passes failed tests that never expect a fail")
		}
		if m.Is == "judge.at_most" && u.Mutate(m).FirstFailing(t.Context()) != "test_pass" {
			t.Error("the comparison turned round was not noticed")
		}
	}
}

func TestMutantsOfJudgementsOnTwoLimits(t *testing.T) {
	text := rule("x/y", "", "", everyDrain+"# judge.same(1, 2) in a comment, \"==\" in text\nverdict[id] := judge.between(p.dn, 40, max([1, 80])) if some id, p in subject\n")
	fsys := policiesFS(t, map[string]string{"x/y": text})
	fsys["profiles/p/profile.json"] = &fstest.MapFile{Data: []byte(profileJSON)}
	b, err := NewBench(fsys, "p")
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, m := range b.Units()[0].Mutants() {
		got = append(got, m.Change())
	}
	all := strings.Join(got, "\n")
	for _, want := range []string{"becomes judge.at_least(p.dn, 40)", "becomes judge.at_most(p.dn, max([1, 80]))", "40 becomes 41", "40 becomes 39", "max becomes min"} {
		if !strings.Contains(all, want) {
			t.Errorf("no mutant %q among\n%s", want, all)
		}
	}
	if strings.Contains(all, "same") || strings.Contains(all, "!=") {
		t.Errorf("a comment was changed:\n%s", all)
	}
}
