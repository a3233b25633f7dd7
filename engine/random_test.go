package engine_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"backpitch/engine"
	"backpitch/engine/design"
	"backpitch/engine/finding"
	"backpitch/engine/profile"
	"backpitch/policies"
	"backpitch/schema"
	"backpitch/testdata/designs/random"
)

// randomSeeds is how many seeds the tests of random designs try; 2000 take
// ten minutes of one core.
var randomSeeds = flag.Uint("seeds", 16, "seeds that the properties of random designs are tried with")

// firstSeed is where they begin.
var firstSeed = flag.Uint64("first", 0, "first seed of the properties of random designs")

// TestRandomDesignsRead reads and derives random designs under a profile of
// each method of load: none has a problem.
func TestRandomDesignsRead(t *testing.T) {
	eng := engine.New(engine.Options{Policies: policies.FS()})
	profiles, err := eng.Profiles()
	if err != nil {
		t.Fatal(err)
	}
	byID := map[string]*profile.Profile{}
	for _, s := range profiles {
		if byID[s.ID], err = eng.Profile(s.ID); err != nil {
			t.Fatal(err)
		}
	}
	check := func(seed uint64, elements int, data []byte) {
		t.Helper()
		id := profiles[seed%uint64(len(profiles))].ID
		doc, problems := design.Read("random", data, design.Limits{})
		if len(problems) == 0 {
			_, problems = engine.Derive("random", doc, byID[id])
		}
		if len(problems) > 0 {
			t.Errorf("seed %d, %d elements, %s: %d problems, the first: %s", seed, elements, id, len(problems), problems[0].Message)
			return
		}
		have := 0
		doc.Values(func(design.Element, []byte) { have++ })
		if have < elements*9/10 || have > elements+elements/10+40 {
			t.Errorf("seed %d has %d elements, want about %d", seed, have, elements)
		}
	}
	for seed := range uint64(*randomSeeds) * 20 {
		check(seed, random.Size(seed), random.Mixed(seed))
	}
	for _, elements := range []int{0, 1000, random.Most} {
		check(7, elements, random.Design(7, elements))
	}
	if !bytes.Equal(random.Design(5, 100), random.Design(5, 100)) || bytes.Equal(random.Design(5, 100), random.Design(6, 100)) {
		t.Error("a seed must give its own bytes each time")
	}
}

// TestRandomDesignsUseEveryWord wants every key and every word of the schema
// of designs in some random design.
func TestRandomDesignsUseEveryWord(t *testing.T) {
	raw, err := schema.Raw("design")
	if err != nil {
		t.Fatal(err)
	}
	var root map[string]any
	if err := json.Unmarshal(raw, &root); err != nil {
		t.Fatal(err)
	}
	missing := map[string]bool{}
	each := func(part map[string]any, at string, value any, f func(string)) {}
	each = func(part map[string]any, at string, value any, f func(string)) {
		if ref, ok := part["$ref"].(string); ok {
			name := ref[len("#/$defs/"):]
			part, at = root["$defs"].(map[string]any)[name].(map[string]any), name
		}
		if part["type"] == "boolean" {
			part = map[string]any{"enum": []any{true, false}}
		}
		if words, ok := part["enum"].([]any); ok {
			for _, w := range words {
				if value == nil || value == w {
					f(fmt.Sprint(at, " ", w))
				}
			}
		}
		if item, ok := part["items"].(map[string]any); ok {
			list, isList := value.([]any)
			if !isList {
				list = []any{nil}
			}
			for _, v := range list {
				each(item, at, v, f)
			}
		}
		keys, _ := part["properties"].(map[string]any)
		for key, p := range keys {
			object, _ := value.(map[string]any)
			v, have := object[key], true
			if value != nil {
				_, have = object[key]
			}
			if have {
				f(at + "." + key)
				each(p.(map[string]any), at+"."+key, v, f)
			}
		}
	}
	each(root, "design", nil, func(word string) { missing[word] = true })
	if len(missing) < 350 {
		t.Fatalf("the schema has only %d keys and words", len(missing))
	}
	for seed := range uint64(400) {
		var doc map[string]any
		if err := json.Unmarshal(random.Mixed(seed), &doc); err != nil {
			t.Fatal(err)
		}
		each(root, "design", doc, func(word string) { delete(missing, word) })
	}
	if len(missing) > 0 {
		t.Errorf("no random design has: %q", slices.Sorted(maps.Keys(missing)))
	}
}

// oneSided are the rules that no design can get both pass and fail from, with
// the reason; whatever is asked of a person on site is always review.
var oneSided = map[string]string{
	"basin/vent_shared": "every profile lets the vent of a basin join other vents",
}

// wholeSeeds are enough seeds to reach everything that can be reached.
const wholeSeeds = 300

// TestRandomDesignsReachEveryRule judges random designs until every rule that a
// profile adopts has had a pass and a fail. Where something is still
// missing, a profile that adopts it has the next turn. The few seeds of the
// suite need reach four in five.
func TestRandomDesignsReachEveryRule(t *testing.T) {
	suite := wholeSuite(t)
	profiles, err := suite.engine.Profiles()
	if err != nil {
		t.Fatal(err)
	}
	every := map[string]bool{}
	missing := map[string]map[string]bool{} // by profile, what its rules still lack
	for _, p := range profiles {
		missing[p.ID] = map[string]bool{}
		rules, err := suite.engine.Rules(p.ID)
		if err != nil {
			t.Fatal(err)
		}
		for _, rule := range rules {
			wanted := []finding.Outcome{finding.Pass, finding.Fail}
			switch {
			case strings.HasPrefix(rule.ID, "field/"):
				wanted = []finding.Outcome{finding.PersonDecides}
			case oneSided[rule.ID] != "":
				wanted = []finding.Outcome{finding.Pass}
			}
			for _, w := range wanted {
				missing[p.ID][rule.ID+" "+string(w)] = true
				every[rule.ID+" "+string(w)] = true
			}
		}
	}
	outcomes, reviews := map[finding.Outcome]bool{}, 0
	for seed := uint64(1000); reviews < 2*int(*randomSeeds); seed++ {
		next := slices.MaxFunc(profiles, func(a, b profile.Summary) int { return len(missing[a.ID]) - len(missing[b.ID]) }).ID
		if len(missing[next]) == 0 {
			break
		}
		reviews++
		r := suite.engine.Review(t.Context(), engine.Submission{Name: "random", Data: random.Design(seed, 50+200*int(seed%2))}, next)
		if r.Failure != "" || len(r.Problems) > 0 {
			t.Fatalf("seed %d under %s: %s %v", seed, next, r.Failure, r.Problems)
		}
		for _, f := range r.Findings {
			outcomes[f.Outcome] = true
			if oneSided[f.Rule] != "" && f.Outcome == finding.Fail {
				t.Errorf("%s fails in seed %d under %s: it is not one-sided", f.Rule, seed, next)
			}
			for _, of := range missing {
				delete(of, f.Rule+" "+string(f.Outcome))
			}
		}
	}
	left := map[string]bool{}
	for _, lack := range missing {
		maps.Copy(left, lack)
	}
	t.Logf("%d designs, %d of %d outcomes of rules left", reviews, len(left), len(every))
	if *randomSeeds < wholeSeeds && len(left) > len(every)/5 || *randomSeeds >= wholeSeeds && len(left) > 0 {
		t.Errorf("after %d designs nothing has: %q", reviews, slices.Sorted(maps.Keys(left)))
	}
	if len(outcomes) != 4 {
		t.Errorf("only the outcomes %v occur", outcomes)
	}
}
