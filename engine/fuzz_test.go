package engine_test

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"backpitch/engine"
	"backpitch/engine/finding"
	"backpitch/policies"
	"backpitch/testdata/designs/random"
)

// FuzzReview reviews random designs of which some bytes are changed, under one
// profile after the other. A design has problems, each at a place in the file,
// or every rule has one outcome for each of its subjects; the outcomes are those
// of a brief review and of the design in another order.
func FuzzReview(f *testing.F) {
	eng := engine.New(engine.Options{Policies: policies.FS()})
	profiles, err := eng.Profiles()
	if err != nil {
		f.Fatal(err)
	}
	for i := range profiles {
		f.Add(uint64(i), uint8(5+9*i), []byte{})
		f.Add(uint64(40+i), uint8(3*i), []byte{byte(i), 17, 3, 200, byte(7 * i), 1})
	}
	f.Fuzz(func(t *testing.T, seed uint64, size uint8, changes []byte) {
		data := touched(random.Design(seed, int(size)), changes)
		id := profiles[(seed+uint64(size))%uint64(len(profiles))].ID
		r := eng.Review(t.Context(), engine.Submission{Name: "random", Data: data}, id)
		if r.Failure != "" || r.File != "random" {
			t.Fatalf("under %s: failure %q, file %q", id, r.Failure, r.File)
		}
		lines := bytes.Count(data, []byte{'\n'}) + 1
		for _, p := range r.Problems {
			if p.Code == "" || p.Message == "" || p.Place.File != "random" || p.Code != "max_problems" && p.Code != "loop" && p.Place.Line < 1 || p.Place.Line > lines {
				t.Errorf("problem %+v in %d lines", p, lines)
			}
		}
		if len(r.Problems) > 0 {
			if len(changes) < 3 {
				t.Errorf("nothing was changed: %v", r.Problems)
			}
			if len(r.Findings) > 0 || r.Counts != (finding.Counts{}) {
				t.Errorf("problems %v and findings %v", r.Problems, r.Findings)
			}
			return
		}
		checkOutcomes(t, eng, id, r, lines)
		brief := eng.Review(t.Context(), engine.Submission{Name: "random", Data: data, Brief: true}, id)
		if diff := cmp.Diff(outcomesOf(r), outcomesOf(brief)); diff != "" || brief.Counts != r.Counts {
			t.Errorf("a brief review counts %+v, a whole one %+v (-whole +brief):\n%s", brief.Counts, r.Counts, diff)
		}
		again := eng.Review(t.Context(), engine.Submission{Name: "random", Data: shuffled(t, data, seed)}, id)
		if diff := cmp.Diff(placeless(r), placeless(again)); diff != "" {
			t.Errorf("another order of elements gives other findings (-as drawn +shuffled):\n%s", diff)
		}
	})
}

// touched changes a byte for each three: a place, and the digit, letter or byte
// to put there. The place moves on to a byte of the same sort, so that texts
// stay texts and numbers numbers.
func touched(data, changes []byte) []byte {
	sorts := []string{"0123456789", "abcdefghijklmnopqrstuvwxyz_", "0123456789./- \"abcdefghijklmnopqrstuvwxyz_{}[]:,\n"}
	for i := 0; i+2 < min(len(changes), 24); i += 3 {
		sort := sorts[min(int(changes[i+2])/100, 2)]
		from := (int(changes[i])<<8 + int(changes[i+1])) % len(data)
		at := bytes.IndexAny(data[from:], sort)
		if at < 0 {
			continue
		}
		data[from+at] = sort[int(changes[i+2])%len(sort)]
	}
	return data
}

// checkOutcomes wants each subject once in each rule, and counts that add up.
func checkOutcomes(t *testing.T, eng *engine.Engine, profile string, r finding.Review, lines int) {
	t.Helper()
	rules, err := eng.Rules(profile)
	if err != nil {
		t.Fatal(err)
	}
	known := map[string]bool{}
	for _, rule := range rules {
		known[rule.ID] = true
	}
	seen := map[string]bool{}
	counts := map[finding.Outcome]int{}
	for _, x := range r.Findings {
		at := x.Rule + " " + x.Subject
		if seen[at] {
			t.Errorf("%s has two outcomes", at)
		}
		seen[at] = true
		counts[x.Outcome]++
		if !known[x.Rule] || x.Subject == "" || x.Message == "" || x.Section == "" || x.Basis == "" || x.Verify == "" {
			t.Errorf("finding %+v", x)
		}
		if strings.ContainsAny(x.Message, "{}") {
			t.Errorf("the message of %s has a placeholder: %s", at, x.Message)
		}
		if x.Place.File != "random" || x.Place.Line < 1 || x.Place.Line > lines {
			t.Errorf("%s stands at %+v of %d lines", at, x.Place, lines)
		}
	}
	c := r.Counts
	if counts[finding.Pass] != c.Pass || counts[finding.Fail] != c.Fail || counts[finding.Open] != c.Open || counts[finding.PersonDecides] != c.Review ||
		c.Errors+c.Warnings+c.Notes != c.Fail || r.Rules != len(rules) {
		t.Errorf("counts %+v of %v, %d rules of %d", c, counts, r.Rules, len(rules))
	}
}

// outcomesOf is what a brief review shares with a whole one.
func outcomesOf(r finding.Review) []string {
	var out []string
	for _, x := range r.Findings {
		out = append(out, x.Rule+" "+x.Subject+" "+string(x.Outcome))
	}
	slices.Sort(out)
	return out
}
