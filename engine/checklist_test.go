package engine_test

import (
	"io/fs"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"backpitch/engine"
	"backpitch/engine/finding"
	"backpitch/policies"
)

// checklists are the items that public bodies look for in plans and on site:
// jurisdiction, item in our own words, figures and address.
type checklists struct {
	Sources map[string]checklist `json:"sources"`
	Items   []checklistItem      `json:"items"`
}

type checklist struct {
	Title        string `json:"title"`
	Jurisdiction string `json:"jurisdiction"`
	URL          string `json:"url"`
	CodeFamily   string `json:"code_family"`
	Readable     string `json:"readable"` // what of it was read
	Profile      string `json:"profile"`  // the profile of that very jurisdiction or edition, if there is one
}

type checklistItem struct {
	Key       string `json:"key"`
	Source    string `json:"source"`
	Item      string `json:"item"`
	Figures   string `json:"figures"`
	Ref       string `json:"ref"`
	Checkable string `json:"checkable"` // design, field, both, submittal
}

// answer is what backpitch does about an item: rules that judge it, rules that
// stay open where a submission does not show it, or the reason why neither or
// not all of it.
type answer struct {
	Rules  []string `json:"rules"`
	Open   []string `json:"open"`
	Reason string   `json:"reason"`
}

func readChecklists(t *testing.T) (checklists, map[string]answer) {
	t.Helper()
	var list checklists
	readJSON(t, "checklists/items.json", &list)
	answers := map[string]answer{}
	readJSON(t, "checklists/map.json", &answers)
	return list, answers
}

// TestChecklistsAreAnswered holds that each item of the public checklists has
// an answer, and that no answer is left over.
func TestChecklistsAreAnswered(t *testing.T) {
	list, answers := readChecklists(t)
	if len(list.Items) != 66 {
		t.Errorf("%d items, want 66", len(list.Items))
	}
	var keys []string
	byKind := map[string]int{}
	for _, item := range list.Items {
		keys = append(keys, item.Key)
		a := answers[item.Key]
		s := list.Sources[item.Source]
		if s.Title == "" || s.URL == "" || s.Jurisdiction == "" || item.Item == "" {
			t.Errorf("%s: title, address, jurisdiction or item is missing", item.Key)
		}
		if len(a.Rules)+len(a.Open) == 0 && a.Reason == "" {
			t.Errorf("%s (%s, %s): %s: no rule and no reason", item.Key, s.Jurisdiction, item.Checkable, item.Item)
		}
		switch {
		case len(a.Rules) > 0:
			byKind[item.Checkable+", judged"]++
		case len(a.Open) > 0:
			byKind[item.Checkable+", open where not shown"]++
		default:
			byKind[item.Checkable+", a reason why not"]++
		}
		if item.Checkable == "submittal" && len(a.Open) == 0 && a.Reason == "" {
			t.Errorf("%s: what a submittal must show is open where it is missing, or has a reason", item.Key)
		}
	}
	slices.Sort(keys)
	if unique := slices.Compact(slices.Clone(keys)); len(unique) != len(keys) {
		t.Errorf("a key is used twice: %v", keys)
	}
	if mapped := slices.Sorted(maps.Keys(answers)); !slices.Equal(keys, mapped) {
		t.Errorf("items %v\nanswers %v", keys, mapped)
	}
	t.Log(byKind)
}

// TestChecklistRulesAreReal holds that every rule an item is answered with is
// in the catalogue and is adopted: by the profile of the item's jurisdiction
// where there is one, else by any.
func TestChecklistRulesAreReal(t *testing.T) {
	list, answers := readChecklists(t)
	catalogue := ruleFiles(t)
	adopted := adoptions(t)
	for _, item := range list.Items {
		a := answers[item.Key]
		for _, rule := range append(slices.Clone(a.Rules), a.Open...) {
			if catalogue[rule] == "" {
				t.Errorf("%s: there is no rule %s", item.Key, rule)
			}
			profile := list.Sources[item.Source].Profile
			if profile != "" && !slices.Contains(adopted[rule], profile) {
				t.Errorf("%s: profile %s does not adopt %s", item.Key, profile, rule)
			}
			if len(adopted[rule]) == 0 {
				t.Errorf("%s: no profile adopts %s", item.Key, rule)
			}
			if item.Checkable == "field" && !strings.HasPrefix(rule, "field/") {
				t.Errorf("%s: %s does not ask an inspector", item.Key, rule)
			}
		}
	}
}

// TestChecklistGapsAreOpen holds that what submittal checklists ask to be
// shown is open in a sketch that does not show it.
func TestChecklistGapsAreOpen(t *testing.T) {
	list, answers := readChecklists(t)
	data, err := os.ReadFile("../testdata/designs/pottery-studio-sketch.json")
	if err != nil {
		t.Fatal(err)
	}
	open := map[string]int{}
	for _, f := range reviewed(t, data, "ipc-2021").Findings {
		if f.Outcome == finding.Open {
			open[f.Rule]++
		}
	}
	for _, item := range list.Items {
		for _, rule := range answers[item.Key].Open {
			if open[rule] == 0 {
				t.Errorf("%s: %s is not open in the sketch", item.Key, rule)
			}
		}
	}
}

// ruleFiles is the text of all rules, shared and local, by id.
func ruleFiles(t *testing.T) map[string]string {
	t.Helper()
	rules := map[string]string{}
	err := fs.WalkDir(policies.FS(), ".", func(path string, d fs.DirEntry, err error) error {
		id, isRule := strings.CutSuffix(path, ".rego")
		_, id, below := strings.Cut("/"+id, "/rules/")
		if err != nil || !isRule || !below || strings.HasSuffix(id, "_test") {
			return err
		}
		text, err := fs.ReadFile(policies.FS(), path)
		rules[id] = string(text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return rules
}

// adoptions says which profiles adopt each rule.
func adoptions(t *testing.T) map[string][]string {
	t.Helper()
	shipped := engine.New(engine.Options{Policies: policies.FS()})
	profiles, err := shipped.Profiles()
	if err != nil {
		t.Fatal(err)
	}
	by := map[string][]string{}
	for _, s := range profiles {
		p, err := shipped.Profile(s.ID)
		if err != nil {
			t.Fatal(err)
		}
		for rule := range p.Adopts {
			by[rule] = append(by[rule], s.ID)
		}
	}
	return by
}
