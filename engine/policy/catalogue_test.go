package policy

import (
	"errors"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"backpitch/engine/facts"
	"backpitch/engine/finding"
	"backpitch/engine/profile"
)

func TestCatalogue(t *testing.T) {
	fsys := policiesFS(t, map[string]string{"drain/too_flat": tooFlat, "drain/too_flat_test": "package rules.drain.too_flat_test"})
	local := rule("town/odd", "", `"drain.nothing?"`, everyDrain+`verdict[id] := judge.person_decides("look") if some id, _ in subject`)
	fsys["profiles/town/rules/town/odd.rego"] = &fstest.MapFile{Data: []byte(local)}
	got, err := Catalogue(fsys, "town")
	if err != nil {
		t.Fatal(err)
	}
	want := []profile.Rule{
		{ID: "drain/too_flat", Title: "Too flat", Description: "A drain falls enough.", Level: finding.Error, Subject: "drain", Quantity: "slope",
			Message: "{subject} falls {measured}; {limit} is required ({fact:size})", Remedy: "Increase the fall.", Rationale: "Solids stay behind.",
			Needs: []string{"slope", "size"}, Tables: []string{"drain.min_slope"}, Status: "stable", File: "rules/drain/too_flat.rego"},
		{ID: "town/odd", Title: "Too flat", Description: "A drain falls enough.", Level: finding.Error, Subject: "drain", Quantity: "slope",
			Message: "{subject} falls {measured}; {limit} is required ({fact:size})", Remedy: "Increase the fall.", Rationale: "Solids stay behind.",
			Optional: []string{"drain.nothing"}, Status: "stable", File: "profiles/town/rules/town/odd.rego", Local: "town"},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("Catalogue (-want +got):\n%s", diff)
	}
	if shared, _ := Catalogue(fsys); len(shared) != 1 {
		t.Errorf("without a profile the catalogue has %d rules, want 1", len(shared))
	}
}

func TestRunTests(t *testing.T) {
	fsys := policiesFS(t, map[string]string{"drain/too_flat": tooFlat, "drain/too_flat_test": `package rules.drain.too_flat_test

import data.rules.drain.too_flat

test_right if count(too_flat.subject) == 1 with input as {"drains": [{"id": "a"}]}

test_wrong if count(too_flat.subject) == 2 with input as {"drains": [{"id": "a"}]}

todo_test_later if true
`})
	results, coverage, err := RunTests(t.Context(), fsys, true)
	if err != nil {
		t.Fatal(err)
	}
	got := ""
	for _, r := range results {
		got += r.Name
		if r.Failed {
			got += " failed"
		}
		got += ";"
	}
	if got != "test_right;test_wrong failed;todo_test_later failed;" {
		t.Errorf("results are %s", got)
	}
	if p := coverage.Percent["rules/drain/too_flat.rego"]; p <= 0 || p >= 100 {
		t.Errorf("coverage is %v, want some and not all", p)
	}
	fsys["rules/drain/bad.rego"] = &fstest.MapFile{Data: []byte("package x\n\nz := (")}
	if _, _, err := RunTests(t.Context(), fsys, false); err == nil || !strings.Contains(err.Error(), "rules/drain/bad.rego:3:") {
		t.Errorf("RunTests on Rego that does not parse = %v", err)
	}
}

func TestCheckIsStrict(t *testing.T) {
	fsys := policiesFS(t, map[string]string{"drain/too_flat": strings.Replace(tooFlat, "p.slope,", "p.slop,", 1)})
	err := Check(fsys)
	if e, ok := errors.AsType[*Error](err); !ok || !strings.Contains(e.Message, `there is no "slop"`) {
		t.Errorf("Check = %v", err)
	}
}

// benchFacts is about a 20 kB design: 70 drains, 35 fixtures.
func benchFacts() *facts.Facts {
	f := &facts.Facts{}
	for i := range 70 {
		id := "d" + string(rune('A'+i%26)) + string(rune('a'+i/26))
		f.Drains = append(f.Drains, facts.Drain{ID: id, Role: "branch", Lie: "horizontal", Size: "DN 80", DN: some(int64(80)),
			Slope: some(int64(20833)), Length: some(int64(3000000)), Load: some(int64(12000)), Fixtures: 3, FixtureKinds: []string{"lavatory"}})
		if i%2 == 0 {
			f.Fixtures = append(f.Fixtures, facts.Fixture{ID: "f" + id, Kind: "lavatory", Class: "lavatory", Load: some(int64(1000)),
				TrapType: "p_trap", TrapDN: some(int64(32)), TrapSize: "DN 32", VentMethod: "individual", DrainsTo: "connection"})
		}
	}
	return f
}

func projectProfile(b *testing.B) (*profile.Profile, *Prepared) {
	b.Helper()
	fsys := os.DirFS("../../policies")
	p, err := profile.Load(fsys, "ipc-2021")
	if err != nil {
		b.Fatal(err)
	}
	prepared, err := Prepare(b.Context(), fsys, p)
	if err != nil {
		b.Fatal(err)
	}
	return p, prepared
}

func BenchmarkPrepare(b *testing.B) {
	p, prepared := projectProfile(b)
	for b.Loop() {
		if _, err := Prepare(b.Context(), os.DirFS("../../policies"), p); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(prepared.ids)), "rules")
}

func BenchmarkJudge(b *testing.B) {
	_, prepared := projectProfile(b)
	f := benchFacts()
	for b.Loop() {
		if _, err := prepared.Judge(b.Context(), f); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkValueOf(b *testing.B) {
	f := benchFacts()
	for b.Loop() {
		valueOf(f)
	}
}
