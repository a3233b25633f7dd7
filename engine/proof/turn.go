package proof

import (
	"cmp"
	"context"
	"slices"

	"backpitch/engine/finding"
	"backpitch/engine/policy"
	"backpitch/engine/profile"
	"backpitch/engine/quantity"
)

// turn looks for a fact whose value decides: at the limit one outcome, one unit
// beyond it another. A pass that turns to fail is preferred.
func (pr *prover) turn(ctx context.Context, facts any, v policy.Verdict, f *figure, notices func([]Case) (bool, error)) ([]Case, error) {
	subject := find(facts, pr.unit.Group(), v.Subject)
	if subject == nil {
		subject = find(facts, "", v.Subject)
	}
	var fallback []Case
	for _, fact := range pr.numbers(facts, subject, v) {
		if pr.spent > budget {
			break
		}
		for _, limit := range limits(v, f) {
			cases, clear, err := pr.around(ctx, facts, v.Subject, fact, subject, limit)
			if err != nil {
				return nil, err
			}
			if cases == nil || fallback != nil && !clear {
				continue
			}
			rests, err := notices(cases)
			if err != nil {
				return nil, err
			}
			if rests && clear {
				pr.hints.remember(dotted(fact, subject))
				return cases, nil
			}
			if rests {
				fallback = cases
			}
		}
	}
	return fallback, nil
}

// limits are the numbers that a verdict may turn on.
func limits(v policy.Verdict, f *figure) []int64 {
	var out []int64
	add := func(n int64) {
		if !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	switch l := v.Limit.(type) {
	case int64:
		add(l)
	case []int64:
		for _, n := range l {
			add(n)
		}
	}
	if f != nil {
		if n, ok := f.value.(int64); ok {
			add(n)
		}
	}
	return out
}

// numbers lists the numeric facts, those most likely measured first.
func (pr *prover) numbers(facts any, subject route, v policy.Verdict) []route {
	var out []route
	leaves(facts, nil, func(p route, value any) {
		if _, ok := value.(int64); ok {
			out = append(out, p)
		}
	})
	rank := func(p route) int {
		value, _ := get(facts, p)
		name := dotted(p, subject)
		switch {
		case !p.under(subject) && p[0] != "building":
			return 9
		case slices.Contains(pr.hints.facts, name):
			return 0
		case value == v.Measured && pr.unit.FactUnit(name) == pr.unit.Quantity:
			return 1
		case value == v.Measured:
			return 2
		case pr.unit.FactUnit(name) == pr.unit.Quantity && p.under(subject):
			return 3
		case p.under(subject):
			return 4
		}
		return 5
	}
	slices.SortStableFunc(out, func(a, b route) int { return cmp.Compare(rank(a), rank(b)) })
	return out
}

func (h *hints) remember(fact string) {
	if i := slices.Index(h.facts, fact); i != 0 {
		if i > 0 {
			h.facts = slices.Delete(h.facts, i, i+1)
		}
		h.facts = slices.Insert(h.facts, 0, fact)
	}
}

// around sets the fact to the limit and to one unit on either side. It returns
// nil where nothing turns there; clear when a pass turns to fail.
func (pr *prover) around(ctx context.Context, facts any, id string, fact, subject route, limit int64) (cases []Case, clear bool, err error) {
	name := dotted(fact, subject)
	at := pr.move(facts, fact, limit)
	here, err := pr.judge(ctx, pr.trial, at)
	if err != nil {
		return nil, false, err
	}
	cases, clear, err = pr.sides(ctx, at, here[id], id, fact, name, limit)
	if v := here[id]; cases == nil && err == nil && v.Outcome == finding.Fail {
		healed, v, err := pr.heal(ctx, at, v, fact)
		if healed == nil || err != nil {
			return nil, false, err
		}
		return pr.sides(ctx, healed, v, id, fact, name, limit)
	}
	return cases, clear, err
}

func (pr *prover) sides(ctx context.Context, at any, here policy.Verdict, id string, fact route, name string, limit int64) (cases []Case, clear bool, err error) {
	want := here.Outcome
	atLimit := newCase(pr.unit, id, name+" at the limit", here, at)
	if limit == quantity.Unlimited {
		// Nothing is beyond; what a smaller figure would fail still passes.
		return []Case{atLimit}, want == finding.Pass, nil
	}
	for _, beyond := range pr.beyond(name, limit) {
		over := pr.move(at, fact, beyond)
		there, err := pr.judge(ctx, pr.trial, over)
		if err != nil {
			return nil, false, err
		}
		got := there[id].Outcome
		if got == want {
			continue
		}
		found := []Case{atLimit, newCase(pr.unit, id, name+" one unit beyond", there[id], over)}
		// A subject that is none at 0 fails at 1 where 0 is "not permitted".
		if (want == finding.Pass || want == "" && limit == 0) && got == finding.Fail {
			return found, true, nil
		}
		if cases == nil {
			cases = found
		}
	}
	return cases, false, nil
}

// heal moves what is measured to its limit, so that another fact can decide.
func (pr *prover) heal(ctx context.Context, facts any, v policy.Verdict, decides route) (any, policy.Verdict, error) {
	limit, ok := v.Limit.(int64)
	measured, also := v.Measured.(int64)
	if !ok || !also || limit == quantity.Unlimited {
		return nil, v, nil
	}
	subject := find(facts, pr.unit.Group(), v.Subject)
	for _, fact := range pr.numbers(facts, subject, v) {
		if value, _ := get(facts, fact); value != measured || slices.Equal(fact, decides) {
			continue
		}
		healed := pr.move(facts, fact, limit)
		verdicts, err := pr.judge(ctx, pr.trial, healed)
		if err != nil || verdicts[v.Subject].Outcome == finding.Pass {
			return healed, verdicts[v.Subject], err
		}
	}
	return nil, v, nil
}

// beyond are the nearest values on either side of the limit that lib.judge
// tells from it: for nominal sizes the listed neighbours.
func (pr *prover) beyond(name string, limit int64) []int64 {
	if pr.unit.FactUnit(name) == quantity.Size {
		var out []int64
		for _, way := range []int{-1, 1} {
			if dn, ok := profile.NextSize(limit, way); ok {
				out = append(out, dn)
			}
		}
		return out
	}
	unit := profile.Beyond(limit)
	return []int64{limit - unit, limit + unit}
}

// move sets a fact, and the ends of its range where it has one.
func (pr *prover) move(facts any, fact route, to int64) any {
	facts = set(facts, fact, to)
	for _, end := range []string{"_low", "_high"} {
		p := append(slices.Clone(fact[:len(fact)-1]), fact.name()+end)
		if _, ok := get(facts, p); ok {
			facts = set(facts, p, to)
		}
	}
	return facts
}
