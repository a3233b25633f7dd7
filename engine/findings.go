package engine

import (
	"fmt"
	"slices"
	"strings"

	"backpitch/engine/design"
	"backpitch/engine/finding"
	"backpitch/engine/policy"
	"backpitch/engine/profile"
)

// findings joins each verdict with its rule, its citation and its place.
func (r *Reviewer) findings(s Submission, doc *design.Document, verdicts []policy.Verdict) ([]finding.Finding, error) {
	list := make([]finding.Finding, 0, len(verdicts))
	for _, v := range verdicts {
		rule, ok := r.byID[v.Rule]
		if !ok {
			return nil, fmt.Errorf("rule %s gave a verdict but is not in the catalogue", v.Rule)
		}
		adoption := r.profile.Adopts[v.Rule]
		f := finding.Finding{
			Rule:        rule.ID,
			Title:       rule.Title,
			Level:       rule.Level,
			Outcome:     v.Outcome,
			Subject:     v.Subject,
			SubjectName: subjectName(rule.Subject, v.Subject),
			Section:     adoption.Section,
			Basis:       adoption.Basis,
			Source:      r.profile.SourceTitle(adoption.Source),
			Remedy:      rule.Remedy,
			Verify:      "verify with local authority",
			Missing:     shownAs(v.Missing),
			Fingerprint: finding.Fingerprint(v.Rule, v.Subject),
		}
		if adoption.Level != "" {
			f.Level = adoption.Level
		}
		f.Place = finding.Place{File: s.Name}
		if e, ok := doc.Find(v.Subject); ok {
			f.Place.Line, f.Place.Col, f.Place.Pointer = e.Position.Line, e.Position.Col, e.Position.Pointer
		}
		if !s.Brief || v.Outcome != finding.Pass {
			r.describe(&f, rule, v)
		}
		list = append(list, f)
	}
	finding.Sort(list)
	return list, nil
}

// describe fills what was found and what is required.
func (r *Reviewer) describe(f *finding.Finding, rule profile.Rule, v policy.Verdict) {
	text := renderer{units: r.profile.Units}
	f.Measured = text.quantity(string(rule.Quantity), v.Measured)
	f.Limit = text.quantity(string(rule.Quantity), v.Limit)
	if low, high, ok := ends(v); ok {
		f.Limit.Text = text.words(string(rule.Quantity), low) + " to " + text.words(string(rule.Quantity), high)
	}
	text.apart(f.Measured, f.Limit)
	if v.Op == "above" && f.Limit != nil {
		f.Limit.Text = "more than " + f.Limit.Text
	}
	f.Range = text.spread(string(rule.Quantity), v.Range, f.Limit)
	detail := text.detail(v.Detail, f)
	f.Margin = text.margin(v.Op, f.Measured, f.Limit)
	if f.Limit != nil {
		f.LimitBasis = leastTrusted(v.RestsOn())
	}
	switch v.Outcome {
	case finding.Open:
		f.Message = f.SubjectName + " cannot be judged from what is shown"
		f.Remedy = "Show what is missing on the drawing."
	case finding.PersonDecides:
		f.Message = f.SubjectName + ": " + detail
	case finding.Pass:
		f.Message = passMessage(f, v)
	default:
		f.Message = text.message(rule.Message, f.SubjectName, f.Measured, f.Limit, detail, func(name string) (string, any, bool) {
			value, ok := v.Fact(name)
			return string(r.prepared.FactKind(v.Rule, name)), value, ok
		})
		if f.Range != nil && detail != "" && !strings.Contains(rule.Message, "{detail}") {
			f.Message += "; " + detail
		}
	}
}

func passMessage(f *finding.Finding, v policy.Verdict) string {
	switch {
	case v.Detail != "":
		return f.SubjectName + ": " + v.Detail
	case f.Measured != nil && f.Limit != nil && !isFlag(v.Measured) && v.Op != "none":
		return fmt.Sprintf("%s meets it: %s against %s", f.SubjectName, f.Measured.Text, f.Limit.Text)
	}
	return f.SubjectName + " meets it"
}

func isFlag(v any) bool {
	_, ok := v.(bool)
	return ok
}

// shownAs turns the path of a fact into words: trap_dn into trap size.
func shownAs(missing []string) []string {
	if len(missing) == 0 {
		return nil
	}
	list := make([]string, len(missing))
	for i, m := range missing {
		list[i] = m
		if strings.ContainsAny(m, " ") {
			continue // already a sentence about a table
		}
		words := strings.FieldsFunc(m, func(r rune) bool { return r == '_' || r == '.' })
		for j, w := range words {
			if w == "dn" {
				words[j] = "size"
			}
		}
		list[i] = strings.Join(words, " ")
	}
	return slices.Compact(list)
}

// ends returns the two limits of a verdict of between.
func ends(v policy.Verdict) (low, high int64, ok bool) {
	limits, ok := v.Limit.([]int64)
	if v.Op != "between" || !ok || len(limits) != 2 {
		return 0, 0, false
	}
	return limits[0], limits[1], true
}

// leastTrusted is the weakest basis of the figures a verdict rests on.
func leastTrusted(figures []policy.Figure) finding.Basis {
	weakest := finding.Basis("")
	for _, f := range figures {
		switch {
		case f.Basis == finding.FromMemory, weakest == "", weakest == finding.Checked:
			weakest = f.Basis
		}
		if weakest == finding.FromMemory {
			break
		}
	}
	return weakest
}

// subjectName is the subject as people say it.
func subjectName(word, id string) string {
	switch id {
	case "project", "building":
		return "the " + id
	}
	return fmt.Sprintf("%s %q", word, id)
}

// count fills the sums of a review from its findings.
func count(r *finding.Review) {
	subjects := map[string]bool{}
	for _, f := range r.Findings {
		subjects[f.Subject] = true
	}
	r.Subjects = len(subjects)
	r.Counts = finding.Count(r.Findings)
}

// elements are the parts of a design as it was submitted.
func elements(doc *design.Document) []finding.Element {
	var list []finding.Element
	doc.Values(func(e design.Element, text []byte) {
		list = append(list, finding.Element{ID: e.ID, Kind: e.Kind, Value: text})
	})
	return list
}
