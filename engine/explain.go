package engine

import (
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"

	"backpitch/engine/finding"
	"backpitch/engine/policy"
	"backpitch/engine/profile"
)

// Why explains the outcome of one rule for one subject of a design that was
// worked: the facts read, the rows of the profile, the comparison, and the
// formulas behind the facts. The finding must be one of the review's.
func (e *Engine) Why(ctx context.Context, w Working, f finding.Finding) (*finding.Explanation, error) {
	r, err := e.Open(ctx, w.Profile.ID)
	if err != nil {
		return nil, err
	}
	verdicts, err := r.prepared.Judge(ctx, w.Facts)
	if err != nil {
		return nil, err
	}
	i := slices.IndexFunc(verdicts, func(v policy.Verdict) bool { return v.Rule == f.Rule && v.Subject == f.Subject })
	if i < 0 {
		return nil, fmt.Errorf("rule %s gave no verdict for %q", f.Rule, f.Subject)
	}
	rule := r.byID[f.Rule]
	x := explainer{reviewer: r, working: w, rule: rule, verdict: verdicts[i], finding: f, text: renderer{units: r.profile.Units}}
	// Rules of strangers are not read in this process: what their METADATA says
	// of them must do.
	x.look = &policy.Look{Facts: rule.Needs}
	if e.guard.Child == nil {
		if x.look, err = policy.LookAt(e.policies, r.profile, f.Rule); err != nil {
			return nil, err
		}
	}
	if err := x.subject(); err != nil {
		return nil, err
	}
	return x.explain(), nil
}

// explainer gathers what led to one verdict.
type explainer struct {
	reviewer *Reviewer
	working  Working
	rule     profile.Rule
	verdict  policy.Verdict
	finding  finding.Finding
	look     *policy.Look
	text     renderer

	values map[string]any // all facts, as rules read them
	facts  map[string]any // of the subject; nil where it cannot be told
}

// subject finds the facts of the subject.
func (x *explainer) subject() error {
	text, err := json.Marshal(x.working.Facts)
	if err != nil {
		return fmt.Errorf("writing facts: %w", err)
	}
	d := json.NewDecoder(strings.NewReader(string(text)))
	d.UseNumber()
	if err := d.Decode(&x.values); err != nil {
		return fmt.Errorf("reading facts: %w", err)
	}
	if x.look.Group == "" {
		x.look.Group = x.guessedGroup()
	}
	switch group := x.values[x.look.Group].(type) {
	case map[string]any:
		x.facts = group
	case []any:
		for _, item := range group {
			if o, ok := item.(map[string]any); ok && o["id"] == x.verdict.Subject {
				x.facts = o
			}
		}
	}
	return nil
}

// guessedGroup is the group of facts that has the subject and what the rule
// needs of it, where the text of the rule was not read; "" for none.
func (x *explainer) guessedGroup() string {
	for _, name := range slices.Sorted(maps.Keys(x.values)) {
		list, _ := x.values[name].([]any)
		there := slices.ContainsFunc(list, func(item any) bool {
			o, ok := item.(map[string]any)
			return ok && o["id"] == x.verdict.Subject
		})
		unknown := slices.ContainsFunc(x.rule.Needs, func(need string) bool { return factDocs().of(name, need) == "" })
		if there && !unknown {
			return name
		}
	}
	if _, single := x.values[x.verdict.Subject].(map[string]any); single {
		return x.verdict.Subject // building, project
	}
	return ""
}

// fact is a fact by its dotted path, as a verdict gives it.
func (x *explainer) fact(path string) (any, bool) {
	at := any(x.facts)
	if x.facts == nil {
		return x.verdict.Fact(path)
	}
	if strings.HasPrefix(path, "building.") || strings.HasPrefix(path, "project.") {
		at = x.values
	}
	for part := range strings.SplitSeq(path, ".") {
		o, ok := at.(map[string]any)
		if !ok {
			return nil, false
		}
		if at, ok = o[part]; !ok {
			return nil, false
		}
	}
	return plainValue(at)
}

// plainValue turns what JSON holds into what a verdict holds.
func plainValue(v any) (any, bool) {
	switch v := v.(type) {
	case json.Number:
		n, err := v.Int64()
		return n, err == nil
	case string, bool:
		return v, true
	case []any:
		words := []string{}
		for _, item := range v {
			s, ok := item.(string)
			if !ok {
				return nil, false
			}
			words = append(words, s)
		}
		return words, true
	}
	return nil, false
}

func (x *explainer) explain() *finding.Explanation {
	out := &finding.Explanation{
		File: x.working.Review.File, Profile: x.working.Review.Profile, Finding: x.finding,
		Description: x.rule.Description, Rationale: x.rule.Rationale, RuleFile: x.rule.File,
		Facts: x.factsRead(), Figures: x.figuresRead(), Formulas: []finding.Formula{}, Changes: []string{},
	}
	out.Comparison = x.comparison()
	out.Formulas = append(out.Formulas, x.formulas(out.Facts)...)
	out.Changes = append(out.Changes, x.changes(out.Facts)...)
	return out
}

func (x *explainer) factsRead() []finding.FactRead {
	list := []finding.FactRead{}
	for _, name := range x.look.Facts {
		value, ok := x.fact(name)
		f := finding.FactRead{Name: name, Missing: !ok, Needed: slices.Contains(x.rule.Needs, name), Doc: factDocs().of(x.look.Group, name)}
		if ok {
			f.Value = x.text.words(string(x.reviewer.prepared.FactKind(x.rule.ID, name)), value)
		} else if _, structured := x.whole(name); structured {
			continue // its parts are facts of their own
		}
		list = append(list, f)
	}
	return list
}

// whole reports whether a fact is there but is more than one value.
func (x *explainer) whole(name string) (any, bool) {
	v, ok := x.facts[name]
	return v, ok
}
