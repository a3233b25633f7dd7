package engine

import (
	"context"
	"slices"

	"backpitch/engine/calcs"
	"backpitch/engine/design"
	"backpitch/engine/facts"
	"backpitch/engine/finding"
	"backpitch/engine/network"
	"backpitch/engine/profile"
	"backpitch/engine/quantity"
)

// Working is a review with everything that led to it: for calculation sheets
// and drawings. Facts and Record are nil where the review has problems or a
// failure.
type Working struct {
	Review  finding.Review
	Design  *design.Document
	Facts   *facts.Facts
	Record  *calcs.Record
	Profile *profile.Profile
	Units   quantity.System

	rules map[string]profile.Rule
}

// Work reviews a design and keeps what led to the review.
func (e *Engine) Work(ctx context.Context, s Submission, profileID string) Working {
	doc, r, review := e.begin(ctx, s, profileID)
	w := Working{Review: review, Design: doc}
	if r == nil {
		return w
	}
	w.Profile, w.Units, w.rules = r.profile, r.profile.Units, r.byID
	w.Review.Profile = r.info()
	net, problems := network.Build(doc)
	if len(problems) == 0 {
		w.Facts, w.Record, problems = facts.DeriveRecorded(doc, net, r.profile)
	}
	if len(problems) > 0 {
		inFile(s.Name, problems)
		finding.SortProblems(problems)
		w.Review.Problems, w.Facts, w.Record = e.limits.Cut(s.Name, problems), nil, nil
		return w
	}
	w.Review = r.judge(ctx, s, doc, w.Facts, w.Review)
	return w
}

// Sheet is the calculation sheet, nil where nothing could be computed.
func (w Working) Sheet() *calcs.Sheet {
	if w.Record == nil {
		return nil
	}
	s := &calcs.Sheet{
		File: w.Review.File, Project: w.Review.Project, Profile: w.Review.Profile,
		Methods: w.methods(), Verify: w.Review.Profile.Verify,
		Tables: []calcs.Table{}, Formulas: []calcs.Formula{}, Steps: []calcs.Step{}, Gaps: []calcs.Gap{},
	}
	s.Tables = append(s.Tables, w.fixtureTable(), w.subtotalTable())
	for _, p := range w.Record.Pumps {
		s.Tables = append(s.Tables, w.headTable(p))
	}
	s.Tables = append(s.Tables, w.drainTable())
	for _, b := range w.Record.Basins {
		s.Tables = append(s.Tables, w.levelTable(b))
	}
	s.Tables = append(s.Tables, w.fallTable())
	s.Tables = slices.DeleteFunc(s.Tables, func(t calcs.Table) bool { return len(t.Rows) == 0 })
	s.Write(w.Record, w.Units, w.judged)
	return s
}

// judged lists the rules that needed a fact of a subject, with what they said.
func (w Working) judged(subject, fact string) []calcs.Judged {
	var out []calcs.Judged
	for _, f := range w.Review.Findings {
		if f.Subject != subject || !slices.Contains(w.rules[f.Rule].Needs, fact) {
			continue
		}
		j := calcs.Judged{Rule: f.Rule, Section: f.Section, Outcome: string(f.Outcome), Basis: string(f.Basis)}
		if f.Limit != nil {
			j.Limit = f.Limit.Text
		}
		out = append(out, j)
	}
	return out
}

// methods says in words how the profile computes.
func (w Working) methods() []string {
	m := w.Profile.Method
	list := []string{}
	if m.Load == "discharge_units" {
		list = append(list, "design flow: K times the root of the sum of discharge units ("+m.Section+", "+string(m.Basis)+")")
	} else {
		list = append(list, "design flow: fixture units by a flow curve ("+m.Section+", "+string(m.Basis)+")")
	}
	seen := map[string]bool{}
	for _, s := range w.Record.Steps {
		switch s.Formula {
		case "hazen_williams", "darcy_weisbach", "full_manning", "full_colebrook":
			seen[s.Formula] = true
		}
	}
	for _, x := range []struct{ formula, text string }{
		{"full_manning", "part-full drains: Manning, n by material where the design states none"},
		{"full_colebrook", "part-full drains: Colebrook-White, roughness of a drain in service"},
		{"hazen_williams", "friction of pumped lines: Hazen-Williams, C by material where the design states none"},
		{"darcy_weisbach", "friction of pumped lines: Darcy-Weisbach with Colebrook, roughness by material"},
	} {
		if seen[x.formula] {
			list = append(list, x.text)
		}
	}
	return append(list, "bores: outside diameter less two least walls, by material and size; a range in brackets runs from rough pipe and the pump at the low end of its tolerance to smooth pipe and the high end")
}
