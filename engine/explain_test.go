package engine_test

import (
	"os"
	"slices"
	"strings"
	"testing"

	"backpitch/engine"
	"backpitch/engine/finding"
)

func worked(t *testing.T, name, profileID string) (*engine.Engine, engine.Working) {
	t.Helper()
	data, err := os.ReadFile(designFolder + "/" + name + ".json")
	if err != nil {
		t.Fatal(err)
	}
	eng := shipped()
	w := eng.Work(t.Context(), engine.Submission{Name: name, Data: data}, profileID)
	if w.Review.Failure != "" || len(w.Review.Problems) > 0 {
		t.Fatalf("%s: %s %v", name, w.Review.Failure, w.Review.Problems)
	}
	return eng, w
}

// TestEveryOutcomeIsExplained explains every rule of the flawed demo and of a
// sketch, under two profiles, once for each outcome, and holds that the
// explanation says nothing that the finding does not.
func TestEveryOutcomeIsExplained(t *testing.T) {
	for _, design := range []string{"pottery-studio-flawed", "pottery-studio-sketch"} {
		for _, profileID := range []string{"ipc-2021", "en-12056"} {
			eng, w := worked(t, design, profileID)
			done := map[string]bool{}
			for _, f := range w.Review.Findings {
				key := f.Rule + " " + string(f.Outcome)
				if done[key] {
					continue
				}
				done[key] = true
				e, err := eng.Why(t.Context(), w, f)
				if err != nil {
					t.Fatalf("%s %s: %v", f.Rule, f.Subject, err)
				}
				if strings.Contains(f.Rule, "/") && e.Comparison == "" || e.Description == "" || e.RuleFile == "" {
					t.Errorf("%s %s: the explanation lacks its comparison or its rule: %+v", f.Rule, f.Subject, e)
				}
				if f.Limit != nil && f.Measured != nil && f.Measured.Fixed != nil && !strings.Contains(e.Comparison, f.Limit.Text) {
					t.Errorf("%s %s: the comparison %q does not name the limit %q", f.Rule, f.Subject, e.Comparison, f.Limit.Text)
				}
				explainedOutcome(t, f, e)
			}
		}
	}
}

func explainedOutcome(t *testing.T, f finding.Finding, e *finding.Explanation) {
	t.Helper()
	missing := slices.ContainsFunc(e.Facts, func(r finding.FactRead) bool { return r.Missing && r.Needed })
	switch f.Outcome {
	case finding.Pass:
		if missing && !strings.Contains(e.Comparison, "does not reach") {
			t.Errorf("%s %s passes and a fact it needs is said to be missing: %+v", f.Rule, f.Subject, e.Facts)
		}
	case finding.Fail, finding.Open:
		if len(e.Changes) == 0 {
			t.Errorf("%s %s: %s, and nothing is said to change it", f.Rule, f.Subject, f.Outcome)
		}
	}
	for _, r := range e.Facts {
		if r.Doc == "" && !strings.Contains(r.Name, ".") {
			t.Errorf("%s: the fact %s is not described", f.Rule, r.Name)
		}
	}
}

// TestExplanationNamesTheRow holds one explanation to what stands in the
// profile: 2 in falls 1/4 in/ft (704.1, from memory).
func TestExplanationNamesTheRow(t *testing.T) {
	eng, w := worked(t, "pottery-studio-flawed", "ipc-2021")
	i := slices.IndexFunc(w.Review.Findings, func(f finding.Finding) bool { return f.Rule == "drain/too_flat" && f.Subject == "wet-2" })
	e, err := eng.Why(t.Context(), w, w.Review.Findings[i])
	if err != nil {
		t.Fatal(err)
	}
	if len(e.Figures) != 1 || e.Figures[0].Key != "2 in" || e.Figures[0].Value != "1/4 in/ft" || !e.Figures[0].Limit ||
		e.Figures[0].Basis != finding.FromMemory || e.Figures[0].From != "ipc-2021" {
		t.Errorf("the figures are %+v", e.Figures)
	}
	if want := "found 1/8 in/ft, at least 1/4 in/ft is asked for: 0.125 in/ft too little; so it fails"; e.Comparison != want {
		t.Errorf("the comparison is %q, want %q", e.Comparison, want)
	}
}

// TestExplanationShowsTheFormula holds that a computed fact comes with its
// formula from the calculation sheet and what it rests on before it.
func TestExplanationShowsTheFormula(t *testing.T) {
	eng, w := worked(t, "pottery-studio", "ipc-2021")
	i := slices.IndexFunc(w.Review.Findings, func(f finding.Finding) bool { return f.Rule == "pump/rate_below_inflow" })
	e, err := eng.Why(t.Context(), w, w.Review.Findings[i])
	if err != nil {
		t.Fatal(err)
	}
	order := ""
	for _, f := range e.Formulas {
		order += f.Fact + " "
	}
	if order != "static_head head rate " {
		t.Errorf("the formulas are of %q, want static head, head, rate", order)
	}
	for _, f := range e.Formulas {
		if f.Expression == "" || f.Substituted == "" || f.Result == "" || len(f.Legend) == 0 {
			t.Errorf("a formula is incomplete: %+v", f)
		}
	}
}
