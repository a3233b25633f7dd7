package rulebook

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"backpitch/engine/finding"
	"backpitch/engine/plant"
	"backpitch/engine/profile"
)

// Judge reviews a design under a profile.
type Judge func(ctx context.Context, profileID, name string, data []byte) (finding.Review, error)

// Workshop is what examples are made from.
type Workshop struct {
	Judge   Judge
	Faults  []plant.Fault
	Designs map[string][]byte // by name, without folder and .json
	Sound   string            // the design that a fault is planted in where it names none

	reviews map[string]finding.Review
	only    []setting // nil, or the only planted designs in which a passing case is looked for
}

// Make finds an example for every rule that a profile adopts. Rules that no
// fault and no design sets off are left out.
func (w *Workshop) Make(ctx context.Context, profiles []*profile.Profile) ([]Example, error) {
	adopters := adoptersOf(profiles)
	var out []Example
	for id, ids := range adopters {
		e, err := w.example(ctx, id, ids)
		if err != nil {
			return nil, err
		}
		if e != nil {
			out = append(out, *e)
		}
	}
	slices.SortFunc(out, func(a, b Example) int { return strings.Compare(a.Rule, b.Rule) })
	return out, nil
}

func adoptersOf(profiles []*profile.Profile) map[string][]string {
	out := map[string][]string{}
	for _, p := range profiles {
		for id := range p.Adopts {
			out[id] = append(out[id], p.ID)
		}
	}
	return out
}

// Again makes an example anew from what it says it is made of; nil where the
// rule no longer answers like that.
func (w *Workshop) Again(ctx context.Context, e Example, profiles []*profile.Profile) (*Example, error) {
	s := setting{profile: e.Profile, design: e.Design}
	if e.Fault != "" {
		i := slices.IndexFunc(w.Faults, func(f plant.Fault) bool { return f.Name == e.Fault })
		if i < 0 {
			return nil, nil
		}
		s.fault = &w.Faults[i]
	}
	w.only = []setting{}
	if e.Passing != nil && e.Passing.Fault != "" {
		for i, f := range w.Faults {
			if f.Name == e.Passing.Fault {
				w.only = append(w.only, setting{cmp.Or(e.Passing.Profile, e.Profile), e.Passing.Design, &w.Faults[i]})
			}
		}
	}
	return w.try(ctx, e.Rule, s, e.Failing.Outcome, adoptersOf(profiles)[e.Rule])
}

// setting is one way to set a rule off.
type setting struct {
	profile string
	design  string
	fault   *plant.Fault // nil for a design as it is
}

// example tries the rule's own faults first, then the designs as they are,
// then every other fault under the profiles that have the rule.
func (w *Workshop) example(ctx context.Context, rule string, profiles []string) (*Example, error) {
	for _, tries := range [][]setting{w.own(rule), w.asTheyAre(profiles), w.others(profiles)} {
		for _, want := range []finding.Outcome{finding.Fail, finding.PersonDecides, finding.Open} {
			for _, s := range tries {
				e, err := w.try(ctx, rule, s, want, profiles)
				if e != nil || err != nil {
					return e, err
				}
			}
		}
	}
	return nil, nil
}

func (w *Workshop) own(rule string) []setting {
	var list []setting
	for i, f := range w.Faults {
		if f.Rule == rule {
			list = append(list, setting{f.Profile, w.base(f), &w.Faults[i]})
		}
	}
	return list
}

func (w *Workshop) asTheyAre(profiles []string) []setting {
	var names []string
	for name := range w.Designs {
		names = append(names, name)
	}
	slices.Sort(names)
	var list []setting
	for _, p := range profiles {
		for _, name := range names {
			list = append(list, setting{p, name, nil})
		}
	}
	return list
}

func (w *Workshop) others(profiles []string) []setting {
	var list []setting
	for _, p := range profiles {
		for i, f := range w.Faults {
			list = append(list, setting{p, w.base(f), &w.Faults[i]})
		}
	}
	return list
}

func (w *Workshop) base(f plant.Fault) string {
	if f.Base != "" {
		return f.Base
	}
	return w.Sound
}

// try makes an example of a setting, nil where the rule does not answer as
// wanted there.
func (w *Workshop) try(ctx context.Context, rule string, s setting, want finding.Outcome, profiles []string) (*Example, error) {
	sound := w.Designs[s.design]
	faulty := sound
	e := &Example{Rule: rule, Profile: s.profile, Design: s.design}
	name := s.design
	if s.fault != nil {
		if s.fault.Rule == rule && string(want) != s.fault.Outcome {
			return nil, nil
		}
		var err error
		if faulty, err = s.fault.Apply(sound); err != nil {
			return nil, err
		}
		e.Fault, name = s.fault.Name, s.fault.Name
		if s.fault.Rule == rule {
			e.Why = s.fault.Why
		}
	}
	r, err := w.review(ctx, s.profile, name, faulty)
	if err != nil {
		return nil, err
	}
	i := slices.IndexFunc(r.Findings, func(f finding.Finding) bool {
		return f.Rule == rule && f.Outcome == want && (s.fault == nil || s.fault.Rule != rule || f.Subject == s.fault.Subject)
	})
	if i < 0 {
		return nil, nil
	}
	bad := r.Findings[i]
	e.Failing = caseOf(s.design, bad)
	if s.fault == nil {
		e.Failing.JSON, err = element(faulty, bad.Subject)
	} else {
		e.Failing.JSON, err = difference(sound, faulty, bad.Subject, true)
	}
	if err == nil {
		e.Passing, err = w.passing(ctx, e, s, faulty, profiles)
	}
	return e, err
}

// passing finds the same subject in the sound design, else any subject of a
// design that the rule passes, under the same profile or another that has it.
func (w *Workshop) passing(ctx context.Context, e *Example, s setting, faulty []byte, profiles []string) (*Case, error) {
	sound := w.Designs[s.design]
	if s.fault != nil {
		r, err := w.review(ctx, s.profile, s.design, sound)
		if err != nil {
			return nil, err
		}
		for _, f := range r.Findings {
			if f.Rule == e.Rule && f.Subject == e.Failing.Subject && f.Outcome == finding.Pass {
				c := caseOf(s.design, f)
				c.JSON, err = difference(sound, faulty, f.Subject, false)
				return &c, err
			}
		}
	}
	tries := append([]setting{{s.profile, s.design, nil}}, w.asTheyAre([]string{s.profile})...)
	tries = append(tries, w.asTheyAre(profiles)...)
	for _, try := range append(tries, w.planted(profiles)...) {
		c, err := w.passes(ctx, e, try)
		if c != nil || err != nil {
			return c, err
		}
	}
	return nil, nil
}

// passes returns the first subject that the rule passes in a setting.
func (w *Workshop) passes(ctx context.Context, e *Example, s setting) (*Case, error) {
	data, name := w.Designs[s.design], s.design
	if s.fault != nil {
		var err error
		if data, err = s.fault.Apply(data); err != nil {
			return nil, err
		}
		name = s.fault.Name
	}
	r, err := w.review(ctx, s.profile, name, data)
	if err != nil {
		return nil, err
	}
	for _, f := range r.Findings {
		if f.Rule != e.Rule || f.Outcome != finding.Pass {
			continue
		}
		c := caseOf(s.design, f)
		if s.profile != e.Profile {
			c.Profile = s.profile
		}
		if s.fault != nil {
			c.Fault = s.fault.Name
		}
		c.JSON, err = element(data, f.Subject)
		return &c, err
	}
	return nil, nil
}

// planted is every fault under the profiles, for what only a fault brings into
// a design. A rule that is made again is not looked for anew: see only.
func (w *Workshop) planted(profiles []string) []setting {
	if w.only == nil {
		return w.others(profiles)
	}
	return w.only
}

// review judges once; a design that cannot be judged has no findings.
func (w *Workshop) review(ctx context.Context, profileID, name string, data []byte) (finding.Review, error) {
	key := profileID + " " + name
	if r, done := w.reviews[key]; done {
		return r, nil
	}
	r, err := w.Judge(ctx, profileID, name, data)
	if err != nil {
		return r, err
	}
	if w.reviews == nil {
		w.reviews = map[string]finding.Review{}
	}
	w.reviews[key] = r
	return r, nil
}

func caseOf(design string, f finding.Finding) Case {
	says := f.Message
	if f.Outcome == finding.Open {
		says += ": " + strings.Join(f.Missing, ", ") + " not shown"
	}
	return Case{Design: design, Subject: f.Subject, Outcome: f.Outcome, Says: says}
}
