package engine

import (
	"fmt"
	"slices"
	"strings"

	"backpitch/engine/calcs"
	"backpitch/engine/finding"
	"backpitch/engine/quantity"
)

// comparison says in words what was held against what, and what came of it.
func (x *explainer) comparison() string {
	f, v := x.finding, x.verdict
	switch {
	case f.Outcome == finding.Open:
		return "nothing could be compared: " + strings.Join(f.Missing, ", ") + " is not shown, so it stays open"
	case v.Op == "person_decides":
		return "the rule compares nothing here: " + x.text.detail(v.Detail, &f) + "; a person decides"
	case v.Op == "not_required":
		return "the requirement does not reach this subject: " + v.Detail + "; so it passes"
	}
	text := x.measure() + "; so it " + map[finding.Outcome]string{finding.Pass: "passes", finding.Fail: "fails", finding.PersonDecides: "is left to a person"}[f.Outcome]
	if f.Range != nil {
		text += fmt.Sprintf("; what was found may be anything from %s to %s", f.Range.Low.Text, f.Range.High.Text)
	}
	return text
}

func (x *explainer) measure() string {
	f, v := x.finding, x.verdict
	found, limit := textOf(f.Measured), textOf(f.Limit)
	switch v.Op {
	case "at_least":
		return fmt.Sprintf("found %s, at least %s is asked for: %s", found, limit, x.apart("too little", "more"))
	case "above":
		return fmt.Sprintf("found %s, %s is asked for", found, limit)
	case "at_most":
		return fmt.Sprintf("found %s, at most %s is allowed: %s", found, limit, x.apart("too much", "less"))
	case "between":
		return fmt.Sprintf("found %s, anything from %s is allowed", found, limit)
	case "same":
		return fmt.Sprintf("found %s, %s is asked for", found, limit)
	case "one_of":
		return fmt.Sprintf("found %s, allowed is one of: %s", found, limit)
	case "in_order":
		return fmt.Sprintf("found in order of flow: %s; asked for in this order: %s", found, limit)
	case "none":
		if f.Outcome == finding.Pass {
			return "nothing was found that is not allowed"
		}
		return "found what is not allowed: " + found
	}
	return fmt.Sprintf("found %s, limit %s", found, limit)
}

// apart says how far a number stands from its limit, and on which side.
func (x *explainer) apart(wrong, right string) string {
	m := x.finding.Margin
	switch {
	case m == nil || m.Fixed == nil:
		if x.finding.Limit != nil && x.finding.Limit.Fixed != nil && *x.finding.Limit.Fixed == quantity.Unlimited {
			return "there is no limit"
		}
		return "it is " + map[bool]string{true: "met", false: wrong}[x.finding.Outcome == finding.Pass]
	case *m.Fixed == 0:
		return "it stands exactly at the limit"
	case *m.Fixed < 0 && x.finding.Outcome == finding.Pass:
		return "it misses the limit by no more than rounding can"
	case *m.Fixed < 0:
		return strings.TrimPrefix(m.Text, "-") + " " + wrong
	}
	return m.Text + " " + right + " than the limit"
}

// changes says what would give another outcome.
func (x *explainer) changes(read []finding.FactRead) []string {
	var out []string
	switch x.finding.Outcome {
	case finding.Open:
		for _, f := range read {
			if f.Missing && (f.Needed || slices.Contains(x.verdict.Missing, f.Name)) {
				out = append(out, fmt.Sprintf("state it in the design: %s (%s)", plainWords(f.Name), f.Doc))
			}
		}
		for _, m := range x.verdict.Missing {
			if strings.HasPrefix(m, "table ") || strings.HasPrefix(m, "the profile") {
				out = append(out, m+": a profile that states it settles it")
			}
		}
	case finding.Fail:
		out = append(out, x.rule.Remedy)
		out = append(out, x.turns("it passes")...)
		out = append(out, x.otherRows()...)
	case finding.Pass:
		out = append(out, x.turns("it passes")...)
	case finding.PersonDecides:
		out = append(out, "a person looks and decides; the design cannot settle it")
	}
	return out
}

// turns says where the outcome turns.
func (x *explainer) turns(words string) []string {
	l := x.finding.Limit
	if l == nil || l.Fixed == nil || *l.Fixed == quantity.Unlimited {
		return nil
	}
	switch x.verdict.Op {
	case "at_least":
		return []string{words + " from " + l.Text + " on"}
	case "above":
		return []string{words + " at " + l.Text}
	case "at_most":
		return []string{words + " up to " + l.Text}
	}
	return nil
}

// mostRows is how many other rows an explanation names.
const mostRows = 4

// otherRows names rows of the same table under which what was found would pass:
// another size, for one.
func (x *explainer) otherRows() []string {
	measured, ok := x.verdict.Measured.(int64)
	limit, ok2 := x.verdict.Limit.(int64)
	if !ok || !ok2 || x.verdict.Op != "at_least" && x.verdict.Op != "at_most" {
		return nil
	}
	var out []string
	for _, id := range x.rule.Tables {
		t := x.reviewer.profile.Table(id)
		if t == nil || len(t.Keys) != 1 {
			continue
		}
		if e, ok := x.row(t); !ok || e.Value != limit {
			continue
		}
		var rows []string
		for _, e := range t.Rows() {
			n, ok := e.Int()
			if ok && (x.verdict.Op == "at_least" && measured >= n || x.verdict.Op == "at_most" && measured <= n) {
				rows = append(rows, fmt.Sprintf("%s (%s)", plainWords(e.KeyText()), t.Text(e, x.reviewer.profile.Units)))
			}
		}
		if len(rows) > mostRows {
			rows = append(rows[:mostRows], fmt.Sprintf("and %d more", len(rows)-mostRows))
		}
		if len(rows) > 0 {
			out = append(out, fmt.Sprintf("%s would be met by what was found for: %s; what else that changes is not looked at here", id, strings.Join(rows, ", ")))
		}
	}
	return out
}

// formulas are the steps of the calculation sheet that led to the facts read,
// each after those that it rests on.
func (x *explainer) formulas(read []finding.FactRead) []finding.Formula {
	sheet := x.working.Sheet()
	if sheet == nil {
		return nil
	}
	byID := map[string]calcs.Formula{}
	for _, f := range sheet.Formulas {
		byID[f.ID] = f
	}
	var out []finding.Formula
	taken := map[int]bool{}
	var take func(i int)
	take = func(i int) {
		if taken[i] {
			return
		}
		taken[i] = true
		s := sheet.Steps[i]
		for _, in := range s.Inputs {
			// Two steps of one result: which of them was put in cannot be told.
			var from []int
			for j, other := range sheet.Steps {
				if other.Subject == s.Subject && other.Part == s.Part && byID[other.Formula].Result.Name == in.Symbol && other.Result == in.Value {
					from = append(from, j)
				}
			}
			if len(from) == 1 {
				take(from[0])
			}
		}
		out = append(out, written(byID[s.Formula], s))
	}
	for _, f := range read {
		for i, s := range sheet.Steps {
			if s.Subject == x.verdict.Subject && s.Fact != "" && s.Fact == f.Name {
				take(i)
			}
		}
	}
	return out
}

func written(f calcs.Formula, s calcs.Step) finding.Formula {
	out := finding.Formula{
		Fact: s.Fact, Title: f.Title, Expression: f.Result.Name + " = " + f.Expression, Substituted: s.Substituted,
		Result: strings.TrimSpace(s.Result + " " + s.Unit), Source: f.Source, Basis: s.Basis, Note: s.Note, Legend: []string{},
	}
	if s.Part != "" {
		out.Title += ", " + s.Part
	}
	for _, symbol := range f.Symbols {
		text := symbol.Name + ": " + symbol.Meaning
		if symbol.Unit != "" {
			text += ", " + symbol.Unit
		}
		out.Legend = append(out.Legend, text)
	}
	return out
}
