package exercise

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"

	"backpitch/engine"
	"backpitch/engine/finding"
	"backpitch/engine/plant"
	"backpitch/engine/profile"
)

// Error says why an exercise cannot be made or marked, and what may help.
type Error struct {
	Message string
	Hint    string
}

func (e *Error) Error() string { return e.Message }

func fail(hint, format string, args ...any) error {
	return &Error{Message: fmt.Sprintf(format, args...), Hint: hint}
}

// Survey is a sound design with every way to break it that is known. It
// remembers which were tried. It is for one goroutine.
type Survey struct {
	name     string
	profile  *profile.Profile
	reviewer *engine.Reviewer
	sound    []byte // arranged
	values   map[string]any
	before   map[string]finding.Finding // all but passes, by name
	options  []*option
	tried    map[string]*attempt // reviews of several faults together
}

// An option is one way to break the design.
type option struct {
	name    string // sorts options the same way every time
	rule    string // the rule it is to break; "" where a fact is taken away
	why     string
	missing bool
	patch   []plant.Operation
	also    func(finding.Finding) bool // a known consequence

	checked bool
	ok      bool
	found   []finding.Finding // what it causes, the intended finding first
	touches map[string]bool   // elements it changes or is found at
}

// NewSurvey reviews the design, refuses it where it is not sound, and lists
// the ways to break it: the faults of the catalogue that were written for it,
// and recipes that fit any design. An empty profile means the design's own.
func NewSurvey(ctx context.Context, eng *engine.Engine, faults fs.FS, name string, design []byte, profileID string) (*Survey, error) {
	sound, err := arrange(design)
	if err != nil {
		return nil, fail("", "%s: %s", name, err)
	}
	review := eng.Review(ctx, engine.Submission{Name: name, Data: sound}, profileID)
	if err := unsound(name, eng.Review(ctx, engine.Submission{Name: name, Data: design}, profileID)); err != nil {
		return nil, err
	}
	s := &Survey{name: name, sound: sound, before: map[string]finding.Finding{}, tried: map[string]*attempt{}}
	if s.reviewer, err = eng.Open(ctx, review.Profile.ID); err != nil {
		return nil, err
	}
	s.profile = s.reviewer.Profile()
	if s.values, err = decoded(sound); err != nil {
		return nil, fail("", "%s: %s", name, err)
	}
	for _, f := range review.Findings {
		if f.Outcome != finding.Pass {
			s.before[named(f)] = f
		}
	}
	catalogue, err := plant.Load(faults)
	if err != nil {
		return nil, fmt.Errorf("the catalogue of faults: %w", err)
	}
	s.options = append(s.fromCatalogue(catalogue), s.fromRecipes()...)
	s.options = append(s.options, s.missingFacts()...)
	slices.SortFunc(s.options, func(a, b *option) int { return cmp.Compare(a.name, b.name) })
	return s, nil
}

// unsound says why faults cannot be planted in a design.
func unsound(name string, r finding.Review) error {
	switch {
	case r.Failure != "":
		return fail(r.Hint, "%s: %s", name, r.Failure)
	case len(r.Problems) > 0:
		p := r.Problems[0]
		return fail(p.Hint, "%s:%d:%d: %s", name, p.Place.Line, p.Place.Col, p.Message)
	case r.Counts.Fail+r.Counts.Open == 0:
		return nil
	}
	var list []string
	for _, f := range r.Findings {
		if f.Outcome == finding.Fail || f.Outcome == finding.Open {
			list = append(list, named(f))
		}
	}
	const shown = 5
	more := ""
	if len(list) > shown {
		more = fmt.Sprintf(" and %d more", len(list)-shown)
		list = list[:shown]
	}
	return fail("mend these first, or choose another --profile: faults are planted in sound designs only",
		"%s is not sound under %s: %s%s", name, r.Profile.ID, strings.Join(list, ", "), more)
}

// named is "fail drain/too_flat wet-2".
func named(f finding.Finding) string { return fmt.Sprintf("%s %s %s", f.Outcome, f.Rule, f.Subject) }

// fromCatalogue offers the faults of the catalogue. One whose patch does not
// fit this design fails when it is tried.
func (s *Survey) fromCatalogue(faults []plant.Fault) []*option {
	var list []*option
	for _, f := range faults {
		if _, adopted := s.profile.Adopts[f.Rule]; !adopted || f.Outcome == plant.Review || len(f.AlsoReview) > 0 || !s.isBase(f) {
			continue
		}
		known := map[string]bool{}
		for _, also := range f.Also {
			known["fail "+also] = true
		}
		for _, also := range f.AlsoOpen {
			known["open "+also] = true
		}
		list = append(list, &option{name: f.Name, rule: f.Rule, why: f.Why, missing: f.Outcome == plant.Open, patch: f.Patch,
			also: func(f finding.Finding) bool { return known[named(f)] }})
	}
	return list
}

// usualBase is the design that faults without a base are planted in.
const usualBase = "pottery-studio"

// isBase: the fault was written for this design. Another may have elements of
// the same ids, and the words of the fault would not be true of it.
func (s *Survey) isBase(f plant.Fault) bool {
	return strings.TrimSuffix(s.name, ".json") == cmp.Or(f.Base, usualBase)
}

func (s *Survey) fromRecipes() []*option {
	all := parts(s.values)
	var list []*option
	for _, r := range recipes {
		if _, adopted := s.profile.Adopts[r.rule]; !adopted {
			continue
		}
		known := strings.Fields(r.also)
		for _, e := range all[r.in] {
			if !r.when(e) {
				continue
			}
			if patch := r.edit(e); patch != nil {
				list = append(list, &option{name: fmt.Sprintf("%s: %s: %s", r.rule, r.why, e.path), rule: r.rule, why: r.why, patch: patch,
					also: func(f finding.Finding) bool {
						return f.Outcome == finding.Fail && f.Rule == r.rule || slices.Contains(known, f.Rule) || slices.Contains(known, topicOf(f.Rule))
					}})
			}
		}
	}
	return list
}

func topicOf(rule string) string {
	topic, _, _ := strings.Cut(rule, "/")
	return topic
}

// missingFacts offers to take one stated fact of one element away.
func (s *Survey) missingFacts() []*option {
	all := parts(s.values)
	var list []*option
	for _, in := range slices.Sorted(maps.Keys(all)) {
		for _, e := range all[in] {
			for _, key := range leaves(e.values, "") {
				if key == "id" || key == "kind" || key == "from" || key == "to" || key == "service" || key == "pump" || key == "basin" || key == "label" {
					continue
				}
				list = append(list, &option{name: "missing " + e.path + "/" + key, why: strings.ReplaceAll(strings.ReplaceAll(key, "/", " "), "_", " ") + " is not stated",
					missing: true, patch: e.drop(key), also: func(f finding.Finding) bool {
						return f.Outcome == finding.Open && finding.ElementOf(f.Subject) == e.id
					}})
			}
		}
	}
	return list
}

// leaves lists the keys of an element that hold a plain value, "trap/seal"
// among them, in order.
func leaves(values map[string]any, before string) []string {
	var keys []string
	for key, v := range values {
		switch v := v.(type) {
		case map[string]any:
			keys = append(keys, leaves(v, before+key+"/")...)
		case string, bool, json.Number:
			keys = append(keys, before+key)
		}
	}
	slices.Sort(keys)
	return keys
}

// attempt is the outcome of planting something.
type attempt struct {
	design []byte
	fresh  []finding.Finding // failures and what is open, beyond the sound design
	err    error             // it cannot be planted
}

var errUnfit = &Error{Message: "the fault does not fit this design"}

// try plants the patches and reviews.
func (s *Survey) try(ctx context.Context, options ...*option) *attempt {
	names := make([]string, len(options))
	var all []plant.Operation
	for i, o := range options {
		names[i] = o.name
		all = append(all, o.patch...)
	}
	key := strings.Join(names, "\n")
	if a := s.tried[key]; a != nil {
		return a
	}
	a := s.attempt(ctx, all)
	if ctx.Err() == nil {
		s.tried[key] = a
	}
	return a
}

func (s *Survey) attempt(ctx context.Context, patch []plant.Operation) *attempt {
	planted := s.sound
	if len(patch) > 0 {
		var err error
		if planted, err = (plant.Fault{Patch: patch}).Apply(s.sound); err != nil {
			return &attempt{err: errUnfit}
		}
		if planted, err = arrange(planted); err != nil {
			return &attempt{err: err}
		}
	}
	values, err := decoded(planted)
	if err != nil || adds(s.values, values) {
		return &attempt{err: errUnfit}
	}
	r := s.reviewer.Review(ctx, engine.Submission{Name: s.name, Data: planted})
	if r.Failure != "" || len(r.Problems) > 0 {
		return &attempt{err: errUnfit}
	}
	out := &attempt{design: planted}
	for _, f := range r.Findings {
		if _, stood := s.before[named(f)]; f.Outcome == finding.Pass || stood {
			continue
		}
		if f.Outcome == finding.PersonDecides {
			return &attempt{err: errUnfit}
		}
		out.fresh = append(out.fresh, f)
	}
	return out
}

// mostConsequences bounds what one fault may cause: what breaks a design all
// over is no exercise.
const mostConsequences = 8

// check tries an option once: it must cause what it is meant to cause and
// nothing that is not known to go with it.
func (s *Survey) check(ctx context.Context, o *option) bool {
	if o.checked {
		return o.ok
	}
	a := s.try(ctx, o)
	if ctx.Err() != nil {
		return false
	}
	o.checked = true
	if a.err != nil || len(a.fresh) == 0 || len(a.fresh) > mostConsequences {
		return false
	}
	wanted := finding.Fail
	if o.missing {
		wanted = finding.Open
	}
	main := -1
	for i, f := range a.fresh {
		switch meant := f.Outcome == wanted && (o.rule == "" || f.Rule == o.rule); {
		case meant && main < 0:
			main = i
		case !meant && !o.also(f), meant && o.rule == "" && !o.also(f):
			return false
		}
	}
	if main < 0 || o.rule == "" && !o.also(a.fresh[main]) {
		return false
	}
	o.found = append([]finding.Finding{a.fresh[main]}, slices.Delete(slices.Clone(a.fresh), main, main+1)...)
	o.touches = touched(o)
	o.ok = true
	return true
}

// touched are the elements an option changes or is found at.
func touched(o *option) map[string]bool {
	out := map[string]bool{}
	for _, op := range o.patch {
		for _, pointer := range []string{op.Path, op.From} {
			for at := range strings.SplitSeq(pointer, "/") {
				if id, ok := strings.CutPrefix(at, "@"); ok {
					out[id] = true
				}
			}
			if strings.HasPrefix(pointer, "/building/") {
				out["building"] = true
			}
		}
	}
	for _, f := range o.found {
		out[finding.ElementOf(f.Subject)] = true
	}
	return out
}
