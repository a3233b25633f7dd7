package exercise

import (
	"bytes"
	"flag"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"backpitch/engine"
	"backpitch/engine/finding"
	catalogue "backpitch/testdata/designs"
)

const studio = "pottery-studio.json"

// reviewed lists the failures and what is open, as a review of the student's
// file gives them, sorted.
func reviewed(t *testing.T, design []byte) []string {
	t.Helper()
	r := shipped().Review(t.Context(), engine.Submission{Name: "design.json", Data: design}, "")
	if r.Failure != "" || len(r.Problems) > 0 {
		t.Fatalf("the student's file cannot be reviewed: %s %v", r.Failure, r.Problems)
	}
	list := []string{}
	for _, f := range r.Findings {
		if f.Outcome == finding.Fail || f.Outcome == finding.Open {
			list = append(list, named(f))
		}
	}
	slices.Sort(list)
	return list
}

// keyed lists the same as the key has it.
func keyed(k *Key) []string {
	list := []string{}
	for _, f := range k.Faults {
		for _, found := range f.Findings {
			list = append(list, fmt.Sprintf("%s %s %s", found.Outcome, found.Rule, found.Subject))
		}
	}
	slices.Sort(list)
	return list
}

// manySeeds is how many seeds are tried; 200 take two minutes.
var manySeeds = flag.Uint("seeds", 20, "seeds that the exercises are tried with")

// TestReviewEqualsKey is the property that marking rests on: for every seed
// and every number of faults a review of the student's file finds exactly what
// the key says, and the file does not say what was done to it.
func TestReviewEqualsKey(t *testing.T) {
	seeds, most := uint64(*manySeeds), 5
	s := survey(t, studio)
	ids := regexp.MustCompile(`[a-z_]+/[a-z_]+`)
	different, rules := map[string]bool{}, map[string]bool{}
	for seed := range seeds {
		for n := range most + 1 {
			e, err := s.Make(t.Context(), Order{Faults: n, Missing: int(seed+uint64(n)) % 2, Seed: seed})
			if err != nil {
				t.Fatalf("seed %d, %d faults: %s", seed, n, err)
			}
			if diff := cmp.Diff(keyed(&e.Key), reviewed(t, e.Design)); diff != "" {
				t.Fatalf("seed %d, %d faults: the review is not the key (-key +review):\n%s", seed, n, diff)
			}
			if want := n + int(seed+uint64(n))%2; len(e.Key.Faults) != want {
				t.Fatalf("seed %d: %d faults, want %d", seed, len(e.Key.Faults), want)
			}
			for _, f := range e.Key.Faults {
				rules[f.Findings[0].Rule] = true
				for _, found := range f.Findings {
					if bytes.Contains(e.Design, []byte(found.Rule)) {
						t.Errorf("seed %d: the student's file names the rule %s", seed, found.Rule)
					}
				}
			}
			for _, id := range ids.FindAllString(string(e.Design), -1) {
				if _, rule := s.profile.Adopts[id]; rule {
					t.Errorf("seed %d: the student's file names the rule %s", seed, id)
				}
			}
			sameLayout(t, s.sound, e.Design)
			different[string(e.Design)] = true
		}
	}
	t.Logf("%d different files, faults of %d rules", len(different), len(rules))
	if want := int(seeds) * most / 2; len(different) < want {
		t.Errorf("%d different files of %d, want at least %d", len(different), int(seeds)*(most+1), want)
	}
}

// sameLayout holds that the file is in the one layout, so that blanks, line
// ends and order say nothing, and that it has no line that the sound design
// has not, but for values.
func sameLayout(t *testing.T, sound, design []byte) {
	t.Helper()
	again, err := arrange(design)
	if err != nil || !bytes.Equal(again, design) {
		t.Errorf("the student's file is not in the layout of exercises (%v)", err)
	}
	if bytes.Contains(design, []byte("//")) && !bytes.Contains(sound, []byte("//")) || bytes.Contains(design, []byte("/*")) {
		t.Error("the student's file has a comment")
	}
	a, b := mustDecode(t, sound), mustDecode(t, design)
	if adds(a, b) {
		t.Error("the student's file has a key or an element that the sound design has not")
	}
	if x, y := order(sound), order(design); !subsequence(y, x) {
		t.Error("the elements stand in another order than in the sound design")
	}
}

func mustDecode(t *testing.T, design []byte) map[string]any {
	t.Helper()
	m, err := decoded(design)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

var elementLine = regexp.MustCompile(`(?m)^    \{ "id": "([^"]+)"`)

func order(design []byte) []string {
	var ids []string
	for _, m := range elementLine.FindAllSubmatch(design, -1) {
		ids = append(ids, string(m[1]))
	}
	return ids
}

func subsequence(part, whole []string) bool {
	i := 0
	for _, id := range whole {
		if i < len(part) && part[i] == id {
			i++
		}
	}
	return i == len(part)
}

func TestMakeIsDeterministic(t *testing.T) {
	o := Order{Faults: 4, Missing: 1, Seed: 11}
	first := exercise(t, studio, o)
	fresh, err := NewSurvey(t.Context(), shipped(), catalogue.Faults(), studio, file(t, studio), "")
	if err != nil {
		t.Fatal(err)
	}
	again, err := fresh.Make(t.Context(), o)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(first.Design, again.Design) {
		t.Error("the same order gives another file")
	}
	if diff := cmp.Diff(first.Key, again.Key); diff != "" {
		t.Errorf("the same order gives another key:\n%s", diff)
	}
}

// TestSoundExercise holds that a design without faults can be an exercise, and
// that it is the sound design.
func TestSoundExercise(t *testing.T) {
	e := exercise(t, studio, Order{Seed: 3})
	if !bytes.Equal(e.Design, survey(t, studio).sound) || len(e.Key.Faults) != 0 {
		t.Error("nothing was ordered and something was planted")
	}
}

func TestTopics(t *testing.T) {
	e := exercise(t, studio, Order{Faults: 5, Topics: []string{"vent", "basin"}, Seed: 5})
	for _, f := range e.Key.Faults {
		if topic := topicOf(f.Findings[0].Rule); topic != "vent" && topic != "basin" {
			t.Errorf("%s was not ordered", f.Findings[0].Rule)
		}
	}
}

// TestOtherDesigns plants into designs that the catalogue was not written for,
// under another profile too.
func TestOtherDesigns(t *testing.T) {
	renamed := bytes.ReplaceAll(file(t, studio), []byte("wet-2"), []byte("zweig-9"))
	for _, c := range []struct {
		name, profile string
		design        []byte
	}{
		{"cellar.json", "", renamed},
		{"cellar.json", "irc-2021", file(t, "bases/row-house.json")},
		{"shop.json", "", file(t, "bases/workshop.json")},
	} {
		t.Run(c.name+" "+c.profile, func(t *testing.T) {
			s, err := NewSurvey(t.Context(), shipped(), catalogue.Faults(), c.name, c.design, c.profile)
			if err != nil {
				t.Fatal(err)
			}
			e, err := s.Make(t.Context(), Order{Faults: 5, Missing: 1, Seed: 2})
			if err != nil {
				t.Fatal(err)
			}
			r := s.reviewer.Review(t.Context(), engine.Submission{Name: c.name, Data: e.Design})
			var got []string
			for _, f := range r.Findings {
				if f.Outcome == finding.Fail || f.Outcome == finding.Open {
					got = append(got, named(f))
				}
			}
			slices.Sort(got)
			if diff := cmp.Diff(keyed(&e.Key), got); diff != "" {
				t.Errorf("-key +review:\n%s", diff)
			}
		})
	}
}

func TestMakeRefuses(t *testing.T) {
	s := survey(t, studio)
	for _, c := range []struct {
		name, want string
		order      Order
	}{
		{"fewer than none", "0 to 20 faults", Order{Faults: -1}},
		{"too many", "0 to 20 faults", Order{Faults: 15, Missing: 6}},
		{"an unknown topic", `no rule of ipc-2021 has the topic "drian"`, Order{Faults: 1, Topics: []string{"drian"}}},
		{"more than there are", "holds 0 faults", Order{Faults: 1, Topics: []string{"field"}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := s.Make(t.Context(), c.order)
			wantError(t, err, c.want)
		})
	}
}

func TestUnsoundDesignIsRefused(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"a failure", string(file(t, "pottery-studio-flawed.json")), "is not sound under ipc-2021: fail "},
		{"something open", string(file(t, "pottery-studio-sketch.json")), "is not sound under ipc-2021: open "},
		{"no JSON", "{", "x.json: the design is not JSON"},
		{"a list", "[]", "x.json: the design is not an object"},
		{"no design", "{}", "x.json:1:1: "},
		{"no profile", strings.Replace(string(file(t, studio)), `"profile": "ipc-2021",`, "", 1), "no profile"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := NewSurvey(t.Context(), shipped(), catalogue.Faults(), "x.json", []byte(c.text), "")
			wantError(t, err, c.want)
		})
	}
}

// TestEveryRecipeWorks holds that each recipe breaks its rule in one of the
// project's designs: one that never works would only waste reviews.
func TestEveryRecipeWorks(t *testing.T) {
	if testing.Short() {
		t.Skip("tries every recipe in four designs")
	}
	works := map[string]bool{}
	for _, name := range []string{studio, "bases/row-house.json", "bases/workshop.json", "bases/air-valves.json"} {
		s := survey(t, name)
		for _, o := range s.options {
			if o.rule != "" && !o.missing && strings.Contains(o.name, ": ") && s.check(t.Context(), o) {
				works[o.rule+": "+o.why] = true
			}
		}
	}
	for _, r := range recipes {
		if _, adopted := survey(t, studio).profile.Adopts[r.rule]; adopted && !works[r.rule+": "+r.why] {
			t.Errorf("the recipe %s: %s, breaks nothing", r.rule, r.why)
		}
	}
}
