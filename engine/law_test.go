package engine_test

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"backpitch/engine/finding"
	"backpitch/engine/plant"
	"backpitch/engine/quantity"
)

// law is what was read of one published code, in our own words: its rows as
// facts and figures, and the cases that judge designs by them. The figures are
// those of the text that was read, not of the profile.
type law struct {
	Title   string            `json:"title"`
	Profile string            `json:"profile"`
	Sources map[string]source `json:"sources"`
	Rows    []lawRow          `json:"rows"`
	Cases   []lawCase         `json:"cases"`
}

// lawRow is one requirement; what no case tests says why.
type lawRow struct {
	Section string   `json:"section"`
	Says    string   `json:"says"`
	Value   string   `json:"value"`
	Source  string   `json:"source"`
	Cases   []string `json:"cases"`
	WhyNot  string   `json:"why_not"`
	Waits   string   `json:"waits_for"` // table that no rule reads yet; a rule that does wants cases here
}

// lawCase judges a design that meets a requirement exactly and one that misses
// it by the smallest practical unit.
type lawCase struct {
	ID            string            `json:"id"`
	Section       string            `json:"section"`
	Says          string            `json:"says"`
	Figure        string            `json:"figure"`
	Source        string            `json:"source"`
	Note          string            `json:"note"`
	Design        string            `json:"design"`
	Setup         []plant.Operation `json:"setup"`
	Rule          string            `json:"rule"`
	Subject       string            `json:"subject"`
	BeyondSubject string            `json:"beyond_subject"` // "": the same
	AtLimit       []plant.Operation `json:"at_limit"`
	Unasked       bool              `json:"unasked_at_limit"` // at the limit the rule has no such subject
	Beyond        []plant.Operation `json:"beyond"`
	Limit         string            `json:"limit"` // what the finding says is required
	Basis         finding.Basis     `json:"basis"`
	LimitBasis    finding.Basis     `json:"limit_basis"`
}

func laws(t *testing.T) []law {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(references, "law", "*.json"))
	if err != nil || len(files) < 6 {
		t.Fatalf("%d files of public law, %v; want 6 or more", len(files), err)
	}
	list := make([]law, len(files))
	for i, f := range files {
		readJSON(t, "law/"+filepath.Base(f), &list[i])
	}
	return list
}

// TestPublicLaw judges each figure of public law at the figure and just beyond
// it, through the whole engine. Title and address of the text stand in the
// file; the section is printed with each failure.
func TestPublicLaw(t *testing.T) {
	for _, l := range laws(t) {
		t.Run(l.Profile, func(t *testing.T) {
			t.Parallel()
			if _, err := referenceEngine.Open(t.Context(), l.Profile); err != nil {
				t.Fatal(err)
			}
			for _, c := range l.Cases {
				t.Run(c.ID, func(t *testing.T) { c.run(t, l) })
			}
		})
	}
}

func (c lawCase) run(t *testing.T, l law) {
	beyondSubject := c.BeyondSubject
	if beyondSubject == "" {
		beyondSubject = c.Subject
	}
	if c.Unasked {
		c.unasked(t, l)
	} else {
		c.judged(t, l, "at the limit", c.AtLimit, c.Subject, finding.Pass)
	}
	f := c.judged(t, l, "beyond it", c.Beyond, beyondSubject, finding.Fail)
	if f.Basis != c.Basis || f.Basis == finding.Checked && f.Source == "" {
		t.Errorf("adopted as %q from %q, want %q with its source", f.Basis, f.Source, c.Basis)
	}
	if c.Limit == "" {
		return
	}
	if f.Limit == nil || f.Limit.Fixed == nil {
		t.Fatalf("the finding shows no limit, want %s", c.Limit)
	}
	if want := fixed(t, quantity.Kind(f.Limit.Kind), c.Limit); *f.Limit.Fixed != want {
		t.Errorf("%s asks for %s (%d), %s says %s (%d)", l.Profile, f.Limit.Text, *f.Limit.Fixed, c.Section, c.Limit, want)
	}
	if c.LimitBasis != "" && f.LimitBasis != c.LimitBasis {
		t.Errorf("the limit is shown as %q, want %q", f.LimitBasis, c.LimitBasis)
	}
}

// unasked holds that the rule asks nothing of the subject at the limit.
func (c lawCase) unasked(t *testing.T, l law) {
	t.Helper()
	for _, f := range reviewed(t, changed(t, c.Design, c.Setup, c.AtLimit), l.Profile).Findings {
		if f.Rule == c.Rule && f.Subject == c.Subject {
			t.Errorf("at the limit: %s asks something of %q: %s\n%s %s", c.Rule, c.Subject, f.Message, c.Section, c.Says)
		}
	}
}

func (c lawCase) judged(t *testing.T, l law, where string, patch []plant.Operation, subject string, want finding.Outcome) finding.Finding {
	t.Helper()
	f := one(t, reviewed(t, changed(t, c.Design, c.Setup, patch), l.Profile), c.Rule, subject)
	if f.Outcome != want {
		t.Errorf("%s: %s for %q is %s, want %s: %s against %s, missing %v\n%s %s\n%s", where, c.Rule, subject, f.Outcome, want,
			text(f.Measured), text(f.Limit), f.Missing, c.Section, c.Says, l.Sources[c.Source].URL)
	}
	return f
}

// TestPublicLawIsWhole holds that every row that was read has its cases or a
// reason, that every case belongs to a row, and that all name their source.
func TestPublicLawIsWhole(t *testing.T) {
	cases, open := 0, 0
	rules := ruleFiles(t)
	for _, l := range laws(t) {
		var ids, named []string
		for _, c := range l.Cases {
			ids = append(ids, c.ID)
			if l.Sources[c.Source].URL == "" || c.Says == "" || c.Section == "" {
				t.Errorf("%s: case %s has no source, section or statement", l.Profile, c.ID)
			}
		}
		for _, r := range l.Rows {
			if (len(r.Cases) == 0) == (r.WhyNot == "") {
				t.Errorf("%s: row %q has neither cases nor a reason, or both", l.Profile, r.Says)
			}
			if l.Sources[r.Source].URL == "" {
				t.Errorf("%s: row %q names source %q", l.Profile, r.Says, r.Source)
			}
			if r.WhyNot != "" {
				open++
			}
			for id, text := range rules {
				if r.Waits != "" && strings.Contains(text, r.Waits) {
					t.Errorf("%s: rule %s reads table %s now: give row %q its cases", l.Profile, id, r.Waits, r.Says)
				}
			}
			named = append(named, r.Cases...)
		}
		slices.Sort(ids)
		slices.Sort(named)
		if !slices.Equal(ids, named) {
			t.Errorf("%s: cases %s\nrows name %s", l.Profile, strings.Join(ids, " "), strings.Join(named, " "))
		}
		cases += len(ids)
	}
	t.Logf("%d cases of public law, %d rows without one", cases, open)
}
