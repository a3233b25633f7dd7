package engine_test

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"backpitch/engine"
	"backpitch/engine/finding"
	"backpitch/engine/plant"
	"backpitch/engine/profile"
)

// The catalogue of faults and the designs they are planted in are invented.
const (
	designFolder = "../testdata/designs"
	faultFolder  = designFolder + "/faults"
	soundDemo    = "pottery-studio"
)

// complete are the profiles each rule of which needs a fault of its own.
var complete = []string{"ipc-2021", "chicago"}

// neverFail are the rules that these profiles adopt and that no design can
// break under them.
var neverFail = map[string]string{
	"basin/vent_shared": "both profiles let the vent of a basin join other vents",
}

// neverFired are rules of the other profiles that no fault and no design
// reaches yet. The list only gets shorter.
var neverFired = map[string]string{}

// suite is what every test of this file shares: each profile is prepared once,
// each fault planted once and each design reviewed once under each profile.
type suite struct {
	engine  *engine.Engine
	faults  []plant.Fault
	designs map[string][]byte // by name, without folder and .json

	mu      sync.Mutex
	reviews map[string]*finding.Review
}

var loaded = sync.OnceValues(func() (*suite, error) {
	s := &suite{engine: shipped(), designs: map[string][]byte{}, reviews: map[string]*finding.Review{}}
	for _, pattern := range []string{"/*.json", "/bases/*.json"} {
		files, err := filepath.Glob(designFolder + pattern)
		if err != nil {
			return nil, err
		}
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				return nil, err
			}
			s.designs[strings.TrimSuffix(filepath.Base(file), ".json")] = data
		}
	}
	var err error
	s.faults, err = plant.Load(os.DirFS(faultFolder))
	return s, err
})

func wholeSuite(t *testing.T) *suite {
	t.Helper()
	s, err := loaded()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// design is the text of a design, with a fault in it or not.
func (s *suite) design(base string, f *plant.Fault) ([]byte, error) {
	data, ok := s.designs[base]
	if !ok {
		return nil, fmt.Errorf("there is no design %q", base)
	}
	if f == nil {
		return data, nil
	}
	return f.Apply(data)
}

// review reviews a design once under each profile.
func (s *suite) review(t *testing.T, profileID, base string, f *plant.Fault) *finding.Review {
	t.Helper()
	key := profileID + " " + base
	if f != nil {
		key += " " + f.Name
	}
	s.mu.Lock()
	r := s.reviews[key]
	s.mu.Unlock()
	if r != nil {
		return r
	}
	data, err := s.design(base, f)
	if err != nil {
		t.Fatal(err)
	}
	r = s.judge(t, profileID, key, data)
	s.mu.Lock()
	s.reviews[key] = r
	s.mu.Unlock()
	return r
}

// judge reviews a text that must be readable and free of contradictions.
func (s *suite) judge(t *testing.T, profileID, name string, data []byte) *finding.Review {
	t.Helper()
	r := s.engine.Review(context.Background(), engine.Submission{Name: name, Data: data}, profileID)
	if r.Failure != "" {
		t.Fatalf("%s: %s\n%s", name, r.Failure, r.Hint)
	}
	for _, p := range r.Problems {
		t.Errorf("%s:%d: %s: %s", name, p.Place.Line, p.Code, p.Message)
	}
	return &r
}

func baseOf(f *plant.Fault) string {
	if f.Base != "" {
		return f.Base
	}
	return soundDemo
}

// outcomes lists "outcome rule subject" of all but passes, sorted.
func outcomes(r *finding.Review) []string {
	var list []string
	for _, f := range r.Findings {
		if f.Outcome != finding.Pass {
			list = append(list, fmt.Sprintf("%s %s %s", f.Outcome, f.Rule, f.Subject))
		}
	}
	slices.Sort(list)
	return list
}

// TestBasesAreSound holds that the designs that faults are planted in have no
// failure and nothing open.
func TestBasesAreSound(t *testing.T) {
	s := wholeSuite(t)
	used := map[string]bool{}
	for i := range s.faults {
		used[baseOf(&s.faults[i])] = true
	}
	for base := range used {
		c := s.review(t, "ipc-2021", base, nil).Counts
		if c.Fail != 0 || c.Open != 0 || c.Pass < 200 {
			t.Errorf("%s: %+v; want no failure, nothing open and at least 200 passes", base, c)
		}
	}
	for _, file := range must(filepath.Glob(designFolder + "/bases/*.json")) {
		if name := strings.TrimSuffix(filepath.Base(file), ".json"); !used[name] {
			t.Errorf("no fault is planted in %s", name)
		}
	}
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// TestPlantedFaultsAreFound holds that each planted fault is found as its file
// says and that nothing else changes for the worse.
func TestPlantedFaultsAreFound(t *testing.T) {
	s := wholeSuite(t)
	for i := range s.faults {
		f := &s.faults[i]
		t.Run(f.Name, func(t *testing.T) {
			t.Parallel()
			before := outcomes(s.review(t, f.Profile, baseOf(f), nil))
			review := s.review(t, f.Profile, baseOf(f), f)
			after := outcomes(review)
			mine := f.Outcome + " " + f.Rule + " " + f.Subject
			want := []string{mine}
			for outcome, list := range map[string][]string{plant.Fail: f.Also, plant.Open: f.AlsoOpen, plant.Review: f.AlsoReview} {
				for _, also := range list {
					want = append(want, outcome+" "+also)
				}
			}
			slices.Sort(want)
			fresh := slices.DeleteFunc(slices.Clone(after), func(o string) bool { return o != mine && slices.Contains(before, o) })
			if diff := cmp.Diff(want, fresh); diff != "" {
				t.Errorf("%s in %s (-expected +found):\n%s", f.Why, baseOf(f), diff)
			}
			if f.Outcome != plant.Review && slices.Contains(before, mine) {
				t.Errorf("%s stands before the fault is planted", mine)
			}
			for _, r := range review.Findings {
				if r.Rule == f.Rule && r.Subject == f.Subject && f.Outcome == plant.Open && !cmp.Equal(f.Missing, r.Missing) {
					t.Errorf("misses %q, want %q", r.Missing, f.Missing)
				}
			}
		})
	}
}

// TestEveryRuleHasAFault holds the catalogue complete for two profiles, and
// that every stable rule of every profile fires somewhere.
func TestEveryRuleHasAFault(t *testing.T) {
	s := wholeSuite(t)
	adopted, planted, fired := map[string][]string{}, map[string]bool{}, map[string]bool{}
	for i := range s.faults {
		f := &s.faults[i]
		planted[f.Profile+" "+f.Rule] = true
		s.fires(fired, s.review(t, f.Profile, baseOf(f), f))
	}
	for _, p := range must(s.engine.Profiles()) {
		for _, rule := range s.rules(t, p.ID) {
			if rule.Status == "stable" {
				adopted[rule.ID] = append(adopted[rule.ID], p.ID)
			}
		}
		for name := range s.designs {
			s.fires(fired, s.review(t, p.ID, name, nil))
		}
	}
	for rule, profiles := range adopted {
		inComplete := slices.ContainsFunc(complete, func(p string) bool { return slices.Contains(profiles, p) })
		has := slices.ContainsFunc(complete, func(p string) bool { return planted[p+" "+rule] })
		why, waived := neverFired[rule]
		switch {
		case inComplete && neverFail[rule] != "":
			if has {
				t.Errorf("%s has a fault: drop it from neverFail (%s)", rule, neverFail[rule])
			}
		case inComplete && !has:
			t.Errorf("%s, adopted by %v, has no fault: add %s/%s.json", rule, profiles, faultFolder, rule)
		}
		switch {
		case waived && (inComplete || fired[rule]):
			t.Errorf("%s fires: drop it from neverFired (%s)", rule, why)
		case !waived && !fired[rule] && neverFail[rule] == "":
			t.Errorf("%s, adopted by %v, never fires in any fault or design", rule, profiles)
		}
	}
	for _, list := range []map[string]string{neverFail, neverFired} {
		for rule := range list {
			if adopted[rule] == nil {
				t.Errorf("%s is excused and no profile adopts it as stable", rule)
			}
		}
	}
	t.Logf("%d faults, %d rules adopted, %d fire", len(s.faults), len(adopted), len(fired))
}

func (s *suite) fires(fired map[string]bool, r *finding.Review) {
	for _, f := range r.Findings {
		if f.Outcome == finding.Fail || f.Outcome == finding.PersonDecides {
			fired[f.Rule] = true
		}
	}
}

func (s *suite) rules(t *testing.T, profileID string) []profile.Rule {
	t.Helper()
	rules, err := s.engine.Rules(profileID)
	if err != nil {
		t.Fatal(err)
	}
	return rules
}

// TestFindingsAreWhole holds that each subject of a rule has one outcome and
// that each finding says where, by what section and on what basis.
func TestFindingsAreWhole(t *testing.T) {
	s := wholeSuite(t)
	for _, p := range must(s.engine.Profiles()) {
		for _, rule := range s.rules(t, p.ID) {
			if strings.TrimSpace(rule.Remedy) == "" || strings.TrimSpace(rule.Rationale) == "" || rule.Title == "" || rule.Description == "" {
				t.Errorf("%s: a rule has title, description, remedy and rationale", rule.ID)
			}
		}
		for name, data := range s.designs {
			r := s.review(t, p.ID, name, nil)
			lines := strings.Split(string(data), "\n")
			subjects, prints := map[string]bool{}, map[string]string{}
			for _, f := range r.Findings {
				what := fmt.Sprintf("%s under %s: %s %s", name, p.ID, f.Rule, f.Subject)
				if subjects[f.Rule+" "+f.Subject] {
					t.Errorf("%s has two outcomes", what)
				}
				subjects[f.Rule+" "+f.Subject] = true
				if other, twice := prints[f.Fingerprint]; twice || f.Fingerprint == "" {
					t.Errorf("%s has the fingerprint %q of %q", what, f.Fingerprint, other)
				}
				prints[f.Fingerprint] = what
				if f.Section == "" || f.Basis == "" || f.Remedy == "" || f.Message == "" || f.Verify == "" {
					t.Errorf("%s lacks section, basis, remedy, message or verify: %+v", what, f)
				}
				if (f.Outcome == finding.Open) != (len(f.Missing) > 0) {
					t.Errorf("%s is %s and misses %q", what, f.Outcome, f.Missing)
				}
				standsAt(t, what, lines, f)
			}
			everySubject(t, name, p.ID, data, s.rules(t, p.ID), subjects)
		}
	}
}

// standsAt holds that the line of a finding is that of its subject.
func standsAt(t *testing.T, what string, lines []string, f finding.Finding) {
	t.Helper()
	if f.Place.Line < 1 || f.Place.Line > len(lines) || f.Place.Col < 1 || f.Place.File == "" || f.Place.Pointer == "" {
		t.Errorf("%s has no place: %+v", what, f.Place)
		return
	}
	key := `"id": "` + f.Subject + `"`
	switch whole, part, composite := strings.Cut(f.Subject, "/"); {
	case f.Subject == "project" || f.Subject == "building":
		key = `"` + f.Subject + `"`
	case strings.HasPrefix(part, "bend-") || strings.HasPrefix(part, "joint-"):
		key = `"kind"`
	case composite:
		key = `"id": "` + whole + `"`
	}
	if !strings.Contains(lines[f.Place.Line-1], key) {
		t.Errorf("%s is placed at line %d, where %s does not stand", what, f.Place.Line, key)
	}
}

// everySubject holds that rules about every element of a kind speak of each of
// them, counted in the text of the design and not by the engine.
func everySubject(t *testing.T, name, profileID string, data []byte, rules []profile.Rule, subjects map[string]bool) {
	t.Helper()
	var doc map[string]any
	if err := json.Unmarshal(data, &doc); err != nil {
		t.Fatal(err)
	}
	about := map[string]func(element map[string]any) bool{ // rule: its subjects
		"pipes drain/ends_dead":                 func(e map[string]any) bool { return e["service"] == "drain" },
		"pipes drain/material_not_permitted":    func(e map[string]any) bool { return e["service"] == "drain" },
		"pipes drain/overloaded":                func(e map[string]any) bool { return e["service"] == "drain" },
		"pipes vent/ends_nowhere":               func(e map[string]any) bool { return e["service"] == "vent" },
		"fixtures fixture/trap_missing":         func(e map[string]any) bool { return e["indirect_waste"] != true },
		"basins basin/not_gas_tight":            func(map[string]any) bool { return true },
		"basins basin/not_vented":               func(map[string]any) bool { return true },
		"pumps pump/cannot_lift":                func(map[string]any) bool { return true },
		"pumps pump/alarm_missing":              func(map[string]any) bool { return true },
		"terminals vent/terminal_near_opening":  func(e map[string]any) bool { return e["kind"] != "air_admittance_valve" },
		"terminals air_admittance/not_accepted": func(e map[string]any) bool { return e["kind"] == "air_admittance_valve" },
	}
	for key, is := range about {
		list, rule, _ := strings.Cut(key, " ")
		if !slices.ContainsFunc(rules, func(r profile.Rule) bool { return r.ID == rule }) {
			continue
		}
		elements, _ := doc[list].([]any)
		for _, e := range elements {
			element := e.(map[string]any)
			if id := element["id"].(string); is(element) && !subjects[rule+" "+id] {
				t.Errorf("%s under %s: %s says nothing of %q", name, profileID, rule, id)
			}
		}
	}
}
