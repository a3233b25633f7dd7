package proof

import (
	"context"
	"slices"

	"backpitch/engine/finding"
	"backpitch/engine/policy"
	"backpitch/engine/profile"
	"backpitch/engine/quantity"
)

// prover proves one rule under one profile.
type prover struct {
	unit   *policy.Unit
	p      *profile.Profile
	trial  *policy.Trial
	seeds  []any
	hints  *hints
	spent  int               // judgements on the figure at hand
	leaves func(figure) bool // figures that are not under test
	// waived figures get the plain search alone: a waiver that is not needed
	// shows.
	waived func(figure) bool
}

// budget is how often one figure may be judged before it is given up.
const budget = 6000

// hints are what served before, so that it is tried first: rows of one table
// and profiles of one family are alike.
type hints struct {
	seed  int
	facts []string
}

// prove returns a proof for each figure the rule can read, and for a rule that
// compares numbers and reads none one for its limit.
func (pr *prover) prove(ctx context.Context) ([]Proof, error) {
	figures := pr.figures()
	var out []Proof
	for _, f := range figures {
		if pr.leaves != nil && pr.leaves(f) {
			continue
		}
		proof, err := pr.figure(ctx, f)
		if err != nil {
			return nil, err
		}
		out = append(out, proof)
	}
	if len(out) < len(figures) {
		return out, nil
	}
	if pr.unit.Quantity != "" && !slices.ContainsFunc(out, func(p Proof) bool { return p.Numeric }) && !pr.unit.NoBoundary {
		proof, err := pr.bare(ctx)
		if err != nil {
			return nil, err
		}
		out = append(out, proof)
	}
	return out, nil
}

func (pr *prover) judge(ctx context.Context, t *policy.Trial, facts any) (map[string]policy.Verdict, error) {
	pr.spent++
	list, err := t.Judge(ctx, facts)
	if err != nil {
		return nil, err
	}
	out := make(map[string]policy.Verdict, len(list))
	for _, v := range list {
		out[v.Subject] = v
	}
	return out, nil
}

// bare proves a limit that is no figure of the profile.
func (pr *prover) bare(ctx context.Context) (Proof, error) {
	proof := Proof{Profile: pr.p.ID, Rule: pr.unit.ID, Numeric: true, Why: "no facts of the rule's tests reach a limit"}
	for i := range pr.seeds {
		seed := pr.seeds[(i+pr.hints.seed)%len(pr.seeds)]
		verdicts, err := pr.judge(ctx, pr.trial, seed)
		if err != nil {
			return proof, err
		}
		for _, id := range sortedKeys(verdicts) {
			cases, err := pr.turn(ctx, seed, verdicts[id], nil, func([]Case) (bool, error) { return true, nil })
			if err != nil {
				return proof, err
			}
			if cases != nil {
				pr.hints.seed = (i + pr.hints.seed) % len(pr.seeds)
				return pr.open(ctx, proof, cases)
			}
		}
	}
	return proof, nil
}

// figure proves one row: it looks for facts on which the verdict changes with
// the figure, and for a number moves the fact that is compared to the limit.
func (pr *prover) figure(ctx context.Context, f figure) (Proof, error) {
	pr.spent = 0
	_, numeric := f.value.(int64)
	proof := Proof{Profile: pr.p.ID, Rule: pr.unit.ID, Table: f.table, Row: f.row, Key: f.text, Numeric: numeric,
		NoLimit: f.value == quantity.Unlimited, Why: "no facts of the rule's tests, varied, rest on this figure"}
	if !numeric {
		return pr.wordy(ctx, proof, f)
	}
	rewritten := pr.unit.Under(pr.p.Changed(pr.p.Rewritten(f.table, f.row)))
	var stepped []*policy.Trial
	for _, c := range pr.p.ChangesOf(f.table, f.row) {
		if c.Key < 0 && c.To != nil {
			stepped = append(stepped, pr.unit.Under(pr.p.Changed(c)))
		}
	}
	try := func(hopeful bool) func(i int, facts any) (bool, error) {
		return func(i int, facts any) (bool, error) {
			before, err := pr.judge(ctx, pr.trial, facts)
			if err != nil {
				return false, err
			}
			after := pr.judgeChanged(ctx, rewritten, facts)
			for _, id := range names(before, after, facts, pr.unit.Group()) {
				if !hopeful && sameVerdict(before[id], after[id]) {
					continue
				}
				found, err := pr.rests(ctx, &proof, f, stepped, facts, before[id], id)
				if found {
					pr.hints.seed = i
				}
				if found || err != nil {
					return found, err
				}
			}
			return false, nil
		}
	}
	err := pr.candidates(f, most, try(false))
	if pr.waived != nil && pr.waived(f) {
		return proof, err
	}
	if proof.Why != "" && err == nil {
		err = pr.candidates(f, mostHopeful, try(true))
	}
	if proof.Why != "" && err == nil {
		err = pr.mixed(f, try(true))
	}
	return proof, err
}

// names are the subjects of either verdict, and of facts that are none yet.
func names(before, after map[string]policy.Verdict, facts any, group string) []string {
	all := map[string]bool{}
	for id := range before {
		all[id] = true
	}
	for id := range after {
		all[id] = true
	}
	if len(all) == 0 {
		for _, p := range subjects(facts, group) {
			if id, ok := get(facts, append(slices.Clone(p), "id")); ok {
				if name, ok := id.(string); ok {
					all[name] = true
				}
			}
		}
	}
	return sortedKeys(all)
}

// rests looks for a turn of the verdict that moves with the figure: a figure
// one step higher or lower must be noticed by the facts at its limit.
func (pr *prover) rests(ctx context.Context, proof *Proof, f figure, stepped []*policy.Trial, facts any, before policy.Verdict, id string) (bool, error) {
	notices := func(cases []Case) (bool, error) {
		for _, t := range stepped {
			seen := false
			for _, c := range cases {
				seen = seen || pr.judgeChanged(ctx, t, c.facts)[id].Outcome != c.Want
			}
			if !seen {
				return false, nil
			}
		}
		return true, nil
	}
	before.Subject = id
	cases, err := pr.turn(ctx, facts, before, &f, notices)
	if err != nil {
		return false, err
	}
	if cases == nil {
		proof.Why = "the figure is read, and no fact could be moved to its limit"
		return false, nil
	}
	*proof, err = pr.open(ctx, *proof, append(cases, pr.keyCases(ctx, f, cases)...))
	return true, err
}

// judgeChanged judges under figures nobody wrote; a rule that breaks on them
// gives no verdict, which is another one.
func (pr *prover) judgeChanged(ctx context.Context, t *policy.Trial, facts any) map[string]policy.Verdict {
	verdicts, err := pr.judge(ctx, t, facts)
	if err != nil {
		return nil
	}
	return verdicts
}

func sameVerdict(a, b policy.Verdict) bool {
	return a.Outcome == b.Outcome && a.Op == b.Op && sameValue(a.Limit, b.Limit) && sameValue(a.Measured, b.Measured)
}

func sameValue(a, b any) bool {
	x, ok := a.([]int64)
	y, also := b.([]int64)
	if ok || also {
		return ok && also && slices.Equal(x, y)
	}
	v, ok := a.([]string)
	w, also := b.([]string)
	if ok || also {
		return ok && also && slices.Equal(v, w)
	}
	return a == b
}

// open adds, for each fact the rule needs, that without it the subject is open.
func (pr *prover) open(ctx context.Context, proof Proof, cases []Case) (Proof, error) {
	proof.Cases, proof.Why = cases, ""
	first := cases[0]
	if first.Want != finding.Pass && len(cases) > 1 && cases[1].Want == finding.Fail {
		first = cases[1]
	}
	subject := find(first.facts, pr.unit.Group(), first.Subject)
	if subject == nil {
		subject = find(first.facts, "", first.Subject)
	}
	for _, need := range pr.unit.Needs {
		p := needPath(need, subject)
		if _, there := get(first.facts, p); !there {
			continue
		}
		without := set(first.facts, p, removed)
		verdicts, err := pr.judge(ctx, pr.trial, without)
		if err != nil {
			return proof, err
		}
		v, ok := verdicts[first.Subject]
		switch {
		case ok && v.Op == "not_required", first.Want == "":
			continue // an exemption needs no facts; and what is no subject has none
		case !ok:
			proof.Why = "without " + need + " the subject is lost"
		case v.Outcome != finding.Open:
			proof.Why = "without " + need + " the outcome is " + string(v.Outcome) + ", not open"
		}
		proof.Cases = append(proof.Cases, newCase(pr.unit, first.Subject, "without "+need, policy.Verdict{Outcome: finding.Open}, without))
	}
	return proof, nil
}

func needPath(need string, subject route) route {
	var p route
	parts := splitDots(need)
	if parts[0] != "building" && parts[0] != "project" {
		p = slices.Clone(subject)
	}
	for _, part := range parts {
		p = append(p, part)
	}
	return p
}
