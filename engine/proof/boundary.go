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

// Case is one set of facts with the outcome that a rule gives for a subject.
type Case struct {
	Rule    string
	Subject string
	What    string // at the limit, beyond it, without size …
	Want    finding.Outcome
	facts   any
	// What the verdict says beside its outcome: it is held to that where the
	// rule changes, not where a figure does.
	op    string
	limit any
}

func newCase(u *policy.Unit, subject, what string, v policy.Verdict, facts any) Case {
	return Case{Rule: u.ID, Subject: subject, What: what, Want: v.Outcome, facts: facts, op: v.Op, limit: v.Limit}
}

// Proof is what could be shown of one figure in the hands of one rule: that
// judging stands on the right side of it at the limit and beyond, and that
// nothing passes without the facts it needs.
type Proof struct {
	Profile string
	Rule    string
	Table   string // "" where the limit is in the rule or a fact
	Row     int
	Key     string
	Numeric bool   // the figure is a number that a verdict turns on
	NoLimit bool   // it permits any number: there is nothing beyond it
	Why     string // why it is not proved, "" where it is
	Cases   []Case
}

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

// figure is one row of a table that the rule reads.
type figure struct {
	table string
	row   int
	kind  quantity.Kind
	keys  []quantity.Kind
	parts []any // of the key
	text  string
	value any
	from  string
}

// figures lists the rows that the rule can read.
func (pr *prover) figures() []figure {
	var out []figure
	for _, id := range slices.Concat(pr.unit.Tables, pr.unit.Optional) {
		if id == profile.FixtureLoad || id == profile.FixtureTrap {
			out = append(out, fixtureFigures(pr.p, id)...)
			continue
		}
		t := pr.p.Table(id)
		for i, e := range t.Rows() {
			out = append(out, figure{id, i, t.Value, t.Keys, t.KeyParts(i), e.KeyText(), e.Value, e.From})
		}
	}
	return out
}

func fixtureFigures(p *profile.Profile, column string) []figure {
	var out []figure
	for i, f := range p.Fixtures {
		v, kind := f.Trap, quantity.Size
		if column == profile.FixtureLoad {
			v, kind = f.Load, p.LoadKind()
		}
		if v != nil {
			out = append(out, figure{column, i, kind, []quantity.Kind{profile.Word}, []any{f.Class}, f.Class, *v, f.From})
		}
	}
	return out
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
