package exercise

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"slices"
	"strings"

	"backpitch/engine/finding"
	"backpitch/engine/quantity"
)

// Order is what an instructor wants planted.
type Order struct {
	Faults  int      // known faults; 0 is allowed
	Missing int      // facts to take away, so that the right answer is "not shown"
	Topics  []string // first parts of rule ids; empty for all
	Seed    uint64
}

// MostFaults bounds an order.
const MostFaults = 20

// Exercise is a student's file and its key.
type Exercise struct {
	Design []byte
	Key    Key
}

// Topics lists the topics of the profile's rules, sorted.
func (s *Survey) Topics() []string {
	set := map[string]bool{}
	for id := range s.profile.Adopts {
		set[topicOf(id)] = true
	}
	return slices.Sorted(maps.Keys(set))
}

// Make plants what is ordered. The same design, order, rules and catalogue
// give the same exercise.
func (s *Survey) Make(ctx context.Context, o Order) (*Exercise, error) {
	if o.Faults < 0 || o.Missing < 0 || o.Faults+o.Missing > MostFaults {
		return nil, fail("", "an exercise has 0 to %d faults, missing facts included", MostFaults)
	}
	for _, t := range o.Topics {
		if all := s.Topics(); !slices.Contains(all, t) {
			return nil, fail("the topics are "+strings.Join(all, ", "), "no rule of %s has the topic %q", s.profile.ID, t)
		}
	}
	chosen, err := s.choose(ctx, nil, o.Faults, s.drawn(o, false))
	if err != nil {
		return nil, err
	}
	all, err := s.choose(ctx, chosen, o.Missing, s.drawn(o, true))
	if err != nil {
		return nil, err
	}
	if got := len(all); ctx.Err() != nil {
		return nil, ctx.Err()
	} else if len(chosen) < o.Faults || got < o.Faults+o.Missing {
		return nil, fail("ask for fewer, or for more topics", "%s holds %d faults and %d missing facts of these topics side by side, not %d and %d",
			s.name, len(chosen), got-len(chosen), o.Faults, o.Missing)
	}
	return s.finish(ctx, o, all)
}

// drawn puts the options of the topics in an order that looks random, in which
// no rule comes twice before every rule has come once. The place of each comes
// from the seed and its own name, so that a rule or a recipe that is new moves
// none of the others.
func (s *Survey) drawn(order Order, missing bool) []*option {
	topics := order.Topics
	lot := func(name string) [sha256.Size]byte {
		return sha256.Sum256(fmt.Appendf(nil, "%d\n%s", order.Seed, name))
	}
	byLot := func(a, b string) int {
		x, y := lot(a), lot(b)
		return bytes.Compare(x[:], y[:])
	}
	byRule := map[string][]*option{}
	for _, o := range s.options {
		if o.missing != missing {
			continue
		}
		key := o.rule
		if key == "" {
			key = o.why // the fact that is taken away
		}
		if o.rule != "" && len(topics) > 0 && !slices.Contains(topics, topicOf(o.rule)) {
			continue
		}
		byRule[key] = append(byRule[key], o)
	}
	rules := slices.Sorted(maps.Keys(byRule))
	slices.SortFunc(rules, byLot)
	longest := 0
	for _, rule := range rules {
		list := byRule[rule]
		slices.SortFunc(list, func(a, b *option) int { return byLot(a.name, b.name) })
		longest = max(longest, len(list))
	}
	var out []*option
	for round := range longest {
		for _, rule := range rules {
			if list := byRule[rule]; round < len(list) {
				out = append(out, list[round])
			}
		}
	}
	if missing && len(topics) > 0 {
		return slices.DeleteFunc(out, func(o *option) bool { return o.rule == "" && o.checked && o.ok && !s.ofTopics(o, topics) })
	}
	return out
}

func (s *Survey) ofTopics(o *option, topics []string) bool {
	return len(topics) == 0 || slices.Contains(topics, topicOf(o.found[0].Rule))
}

// choose adds n options to those chosen, each after a review has shown that
// together they cause exactly what they cause alone.
func (s *Survey) choose(ctx context.Context, chosen []*option, n int, from []*option) ([]*option, error) {
	rules := map[string]bool{}
	for _, want := range []bool{true, false} { // each rule once, then again where that is not enough
		for _, o := range from {
			if n == 0 || ctx.Err() != nil {
				return chosen, ctx.Err()
			}
			if slices.Contains(chosen, o) || !s.check(ctx, o) || want && rules[o.found[0].Rule] || apart(chosen, o) != nil {
				continue
			}
			more := append(slices.Clone(chosen), o)
			if !s.together(ctx, more) {
				continue
			}
			chosen, n = more, n-1
			rules[o.found[0].Rule] = true
		}
	}
	return chosen, nil
}

// apart returns a chosen option that shares an element with o.
func apart(chosen []*option, o *option) *option {
	for _, other := range chosen {
		for id := range o.touches {
			if other.touches[id] {
				return other
			}
		}
	}
	return nil
}

// together says whether the options cause side by side what each causes alone.
func (s *Survey) together(ctx context.Context, options []*option) bool {
	if len(options) == 1 {
		return true // it was checked
	}
	a := s.try(ctx, options...)
	if a.err != nil {
		return false
	}
	var want, got []string
	for _, o := range options {
		for _, f := range o.found {
			want = append(want, named(f))
		}
	}
	for _, f := range a.fresh {
		got = append(got, named(f))
	}
	slices.Sort(want)
	slices.Sort(got)
	return slices.Equal(want, got)
}

// finish writes the student's file and the key.
func (s *Survey) finish(ctx context.Context, order Order, options []*option) (*Exercise, error) {
	a := s.try(ctx, options...)
	if a.err != nil {
		return nil, fail("", "%s: the faults do not fit side by side", s.name)
	}
	byName := map[string]finding.Finding{}
	for _, f := range a.fresh {
		byName[named(f)] = f
	}
	p := s.profile
	key := Key{
		Format: keyFormat, Exercise: Digest(a.design),
		Made:    Made{Design: s.name, Sound: Digest(s.sound), Seed: order.Seed, Faults: order.Faults, Missing: order.Missing, Topics: order.Topics},
		Profile: KeyProfile{ID: p.ID, Title: p.Title, Edition: p.Edition, Authority: p.Authority, Units: "US", Verify: p.Verify},
		Scheme:  DefaultScheme(), Faults: []KeyFault{}, Undecided: []Ref{},
	}
	if p.Units == quantity.SI {
		key.Profile.Units = "SI"
	}
	stated := statedTexts(a.design)
	for i, o := range options {
		fault := KeyFault{Number: i + 1, Outcome: finding.Fail, Why: o.why, Patch: o.patch}
		if o.missing {
			fault.Outcome = finding.Open
		}
		for _, alone := range o.found {
			fault.Findings = append(fault.Findings, keyFinding(byName[named(alone)]))
		}
		fault.Elements = slices.Sorted(maps.Keys(o.touches))
		fault.Sum = needsSum(fault, stated)
		key.Faults = append(key.Faults, fault)
	}
	for _, f := range s.before {
		key.Undecided = append(key.Undecided, Ref{Rule: f.Rule, Subject: f.Subject})
	}
	slices.SortFunc(key.Undecided, Ref.compare)
	return &Exercise{Design: a.design, Key: key}, nil
}

// Digest names a student's file: 16 bytes of its SHA-256 in hexadecimal.
func Digest(design []byte) string {
	sum := sha256.Sum256(design)
	return hex.EncodeToString(sum[:16])
}

func keyFinding(f finding.Finding) KeyFinding {
	return KeyFinding{Outcome: f.Outcome, Rule: f.Rule, Title: f.Title, Subject: f.Subject, SubjectName: f.SubjectName, Section: f.Section,
		Message: f.Message, Measured: f.Measured, Limit: f.Limit, Missing: slices.Clip(append([]string(nil), f.Missing...))}
}

// statedTexts are the texts of a design by element, so that what is stated can
// be told from what has to be worked out.
func statedTexts(design []byte) map[string][]string {
	values, err := decoded(design)
	if err != nil {
		return nil
	}
	out := map[string][]string{}
	for _, list := range parts(values) {
		for _, e := range list {
			for _, key := range leaves(e.values, "") {
				out[e.id] = append(out[e.id], e.text(key))
			}
		}
	}
	return out
}

// needsSum: the measured value is a number that no element of the fault states.
func needsSum(f KeyFault, stated map[string][]string) bool {
	m := f.Findings[0].Measured
	if m == nil || m.Fixed == nil || *m.Fixed == 0 || m.Kind == string(quantity.Size) || m.Kind == string(quantity.Count) {
		return false
	}
	for _, id := range f.Elements {
		for _, text := range stated[id] {
			if v, err := quantity.Parse(quantity.Kind(m.Kind), text); err == nil && v.Fixed() == *m.Fixed {
				return false
			}
		}
	}
	return true
}
