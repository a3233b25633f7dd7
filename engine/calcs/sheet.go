package calcs

import (
	"cmp"
	"regexp"
	"slices"
	"strings"

	"backpitch/engine/finding"
	"backpitch/engine/quantity"
)

// Sheet is the calculation sheet of one design under one profile.
type Sheet struct {
	File     string              `json:"file"`
	Project  finding.Project     `json:"project"`
	Profile  finding.ProfileInfo `json:"profile"`
	Methods  []string            `json:"methods"`
	Tables   []Table             `json:"tables"`
	Formulas []Formula           `json:"formulas"` // those that are used, each once
	Steps    []Step              `json:"steps"`    // in the order of the formulas, then of the subject
	Gaps     []Gap               `json:"not_computed"`
	Verify   string              `json:"verify"`
}

// Table is a schedule: fixture units, pump heads, gravity pipes, volumes.
type Table struct {
	About   string     `json:"-"` // fixtures, loads, pump, drains, basin or gravity, for reports that take some
	Title   string     `json:"title"`
	Columns []string   `json:"columns"` // with their units
	Rows    [][]string `json:"rows"`
	Notes   []string   `json:"notes,omitempty"`
}

// Formula is one formula with its legend, in the units of the sheet.
type Formula struct {
	ID         string   `json:"id"`
	Title      string   `json:"title"`
	Result     Symbol   `json:"result"`
	Expression string   `json:"expression"`
	Symbols    []Symbol `json:"symbols"`
	Source     string   `json:"source"`
}

// Symbol is a letter, what it means and its unit.
type Symbol struct {
	Name    string `json:"name"`
	Meaning string `json:"meaning"`
	Unit    string `json:"unit,omitempty"`
}

// Step is one result.
type Step struct {
	Formula     string   `json:"formula"`
	Subject     string   `json:"subject"`
	Part        string   `json:"part,omitempty"`
	Fact        string   `json:"fact,omitempty"`
	Inputs      []Input  `json:"inputs"`
	Substituted string   `json:"substituted"` // the expression with the inputs in place
	Result      string   `json:"result"`      // without unit
	Unit        string   `json:"unit,omitempty"`
	Low         string   `json:"low,omitempty"` // ends of a result that is not exact
	High        string   `json:"high,omitempty"`
	Basis       string   `json:"basis,omitempty"`
	Note        string   `json:"note,omitempty"`
	Judged      []Judged `json:"judged,omitempty"`
}

// Input is a symbol and the number put in for it.
type Input struct {
	Symbol string `json:"symbol"`
	Value  string `json:"value"`
}

// Judged is a limit that a result was held against.
type Judged struct {
	Rule    string `json:"rule"`
	Section string `json:"section"`
	Limit   string `json:"limit,omitempty"`
	Outcome string `json:"outcome"`
	Basis   string `json:"basis"`
}

// Judge gives the limits that a fact of a subject was held against.
type Judge func(subject, fact string) []Judged

// Write turns the steps of a record into the units of a profile.
func (s *Sheet) Write(r *Record, units quantity.System, judge Judge) {
	used := map[string]bool{}
	for _, raw := range r.Steps {
		f, ok := catalogue[raw.Formula]
		if !ok || len(raw.Values) != len(f.symbols) {
			panic("calcs: no formula " + raw.Formula + " with that many symbols")
		}
		if !raw.finite() {
			s.Gaps = append(s.Gaps, Gap{raw.Subject, f.title, "the numbers are too large or too small for a sheet"})
			continue
		}
		used[raw.Formula] = true
		s.Steps = append(s.Steps, step(f, raw, units, judge))
	}
	for _, id := range order {
		if used[id] {
			s.Formulas = append(s.Formulas, describe(id, catalogue[id], units))
		}
	}
	place := map[string]int{}
	for i, id := range order {
		place[id] = i
	}
	slices.SortStableFunc(s.Steps, func(a, b Step) int {
		if d := place[a.Formula] - place[b.Formula]; d != 0 {
			return d
		}
		if d := strings.Compare(a.Subject, b.Subject); d != 0 {
			return d
		}
		return strings.Compare(a.Part, b.Part)
	})
	s.Gaps = append(s.Gaps, r.Gaps...)
	slices.SortFunc(s.Gaps, func(a, b Gap) int {
		return cmp.Or(strings.Compare(a.Subject, b.Subject), strings.Compare(a.What, b.What), strings.Compare(a.Why, b.Why))
	})
	s.Gaps = slices.Compact(s.Gaps)
}

func describe(id string, f formula, units quantity.System) Formula {
	out := Formula{ID: id, Title: f.title, Result: legend(f.result, units), Expression: f.expression(units), Source: f.source}
	for _, x := range f.symbols {
		out.Symbols = append(out.Symbols, legend(x, units))
	}
	return out
}

func legend(x symbol, units quantity.System) Symbol {
	unit, _ := measures[x.measure].in(units)
	return Symbol{Name: x.name, Meaning: x.meaning, Unit: unit}
}

func (f formula) expression(units quantity.System) string {
	if units == quantity.SI {
		return f.si
	}
	return f.us
}

func step(f formula, raw Raw, units quantity.System, judge Judge) Step {
	out := Step{Formula: raw.Formula, Subject: raw.Subject, Part: raw.Part, Fact: raw.Fact, Basis: raw.Basis, Note: raw.Note}
	put := map[string]string{}
	for i, x := range f.symbols {
		text := measures[x.measure].write(raw.Values[i], units)
		out.Inputs = append(out.Inputs, Input{x.name, text})
		if strings.HasPrefix(text, "-") {
			text = "(" + text + ")"
		}
		put[x.name] = text
	}
	out.Substituted = substitute(f.expression(units), put)
	result := measures[f.result.measure]
	out.Unit, _ = result.in(units)
	out.Result = result.write(raw.Result, units)
	if raw.Low != nil && raw.High != nil && *raw.Low != *raw.High {
		out.Low, out.High = result.write(*raw.Low, units), result.write(*raw.High, units)
	}
	if raw.Fact != "" && judge != nil {
		out.Judged = judge(raw.Subject, raw.Fact)
	}
	return out
}

var word = regexp.MustCompile(`[A-Za-z][A-Za-z0-9]*`)

// substitute puts numbers in place of symbols; names of functions and pi stay.
func substitute(expression string, put map[string]string) string {
	return word.ReplaceAllStringFunc(expression, func(name string) string {
		if text, ok := put[name]; ok {
			return text
		}
		return name
	})
}

// Number writes a number of the sheet's tables in the unit of a measure.
func Number(measure string, si float64, units quantity.System) string {
	return measures[measure].write(si, units)
}

// Unit is the unit of a measure.
func Unit(measure string, units quantity.System) string {
	unit, _ := measures[measure].in(units)
	return unit
}
