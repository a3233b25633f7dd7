package proof

import (
	"context"
	"fmt"
	"path"
	"strings"

	"backpitch/engine/policy"
	"backpitch/engine/profile"
)

// mutate changes every rule and every figure in turn.
func (r *runner) mutate(ctx context.Context) error {
	if !r.o.Mutate {
		return nil
	}
	if err := r.mutateRules(ctx); err != nil {
		return err
	}
	for i, p := range r.profiles {
		score, err := r.mutateFigures(ctx, p)
		if err != nil {
			return err
		}
		r.report.Profiles[i].Score = score
	}
	return nil
}

// taken reports whether the sample holds mutant i of the thing named.
func (r *runner) taken(name string, i int) bool {
	if r.o.Every < 2 {
		return true
	}
	// Not each n-th from the first: the first of every rule are alike.
	h := uint32(2166136261)
	for _, c := range []byte(fmt.Sprint(name, " ", i)) {
		h = (h ^ uint32(c)) * 16777619
	}
	return h%uint32(r.o.Every) == 0
}

// mutateRules changes the text of the adopted rules and of the helpers.
func (r *runner) mutateRules(ctx context.Context) error {
	units, helpers, err := r.underTest()
	if err != nil {
		return err
	}
	type task struct {
		unit   *policy.Unit
		mutant policy.Mutant
	}
	var tasks []task
	total := Score{}
	for _, u := range append(units, helpers...) {
		if test := u.FirstFailing(ctx); test != "" {
			continue // reported already; nothing can be said of its changes
		}
		for i, m := range u.Mutants() {
			total.OutOfAll++
			if !r.taken(u.File, i) {
				total.Skipped++
				continue
			}
			tasks = append(tasks, task{u, m})
		}
	}
	scores := make([]Score, len(tasks))
	err = each(len(tasks), func(i int) error {
		scores[i] = r.tryMutant(ctx, tasks[i].unit, tasks[i].mutant)
		return ctx.Err()
	})
	for _, s := range scores {
		total.add(s)
	}
	r.report.Rules = &total
	return err
}

// underTest are the adopted rules and the helpers that are own.
func (r *runner) underTest() (units, helpers []*policy.Unit, err error) {
	seen := map[string]bool{}
	for _, p := range r.profiles {
		for _, u := range r.bench.Adopted(p) {
			if !seen[u.File] && r.own(u.File) {
				seen[u.File] = true
				units = append(units, u)
			}
		}
	}
	all, err := r.bench.Helpers()
	for _, h := range all {
		if r.own(h.File) {
			helpers = append(helpers, h)
		}
	}
	return units, helpers, err
}

func (r *runner) tryMutant(ctx context.Context, u *policy.Unit, m policy.Mutant) Score {
	s := Score{Changes: 1}
	changed := u.Mutate(m)
	switch {
	case changed == nil:
		return Score{Refused: 1}
	case changed.FirstFailing(ctx) != "":
		s.Tests = 1
		return s
	case !strings.HasPrefix(u.File, "lib/") && r.judgedOtherwise(ctx, u, changed):
		s.Verdict = 1
		return s
	case !strings.HasPrefix(u.File, "lib/") && changed.Refused():
		return Score{Refused: 1}
	}
	r.mu.Lock()
	waiver := r.waivers.mutant(m)
	if waiver != nil {
		waiver.used = true
	}
	r.mu.Unlock()
	if waiver != nil {
		s.Alike = 1
		return s
	}
	s.Unseen = 1
	r.problem(Problem{Code: "mutant_unnoticed", Rule: u.ID, File: m.File, Line: m.Line, Col: m.Col,
		Message: "nobody notices: " + m.Change(), Hint: "add a test whose outcome turns on it, or say in " + waiverFile + " why it changes nothing"})
	return s
}

// judgedOtherwise judges the cases of the rule with its changed text.
func (r *runner) judgedOtherwise(ctx context.Context, u, changed *policy.Unit) bool {
	for _, p := range r.profiles {
		trial := changed.Under(p)
		for _, x := range r.proofs[p.ID] {
			if x.Rule == u.ID && otherwise(ctx, trial, x.Cases, wholeVerdict) {
				return true
			}
		}
	}
	return false
}

// How much of a verdict a case is held to.
type measure bool

const (
	outcomeOnly  measure = false
	wholeVerdict measure = true // the comparison and its limit as well
)

// otherwise reports whether a case is judged otherwise than it should be.
func otherwise(ctx context.Context, t *policy.Trial, cases []Case, how measure) bool {
	for _, c := range cases {
		verdicts, err := t.Judge(ctx, c.facts)
		if err != nil {
			return true
		}
		got := policy.Verdict{}
		for _, v := range verdicts {
			if v.Subject == c.Subject {
				got = v
			}
		}
		if got.Outcome != c.Want || how == wholeVerdict && c.op != "" && (got.Op != c.op || !sameValue(got.Limit, c.limit)) {
			return true
		}
	}
	return false
}

// mutateFigures changes every figure of the profile in turn.
func (r *runner) mutateFigures(ctx context.Context, p *profile.Profile) (*Score, error) {
	kept, err := r.kept(p)
	if err != nil {
		return nil, err
	}
	units := map[string]*policy.Unit{}
	for _, u := range r.bench.Adopted(p) {
		units[u.ID] = u
	}
	for _, c := range r.o.Cases[p.ID] {
		if u := units[c.Rule]; u != nil && otherwise(ctx, u.Under(p), []Case{c}, outcomeOnly) {
			r.problem(Problem{Code: "published_case", Profile: p.ID, Rule: c.Rule, File: path.Join("profiles", p.ID, "profile.json"),
				Message: fmt.Sprintf("%s: %s should give %s for %q", c.What, c.Rule, c.Want, c.Subject)})
		}
	}
	var changes []profile.Change
	total := Score{}
	for i, c := range p.Changes() {
		if !r.ownProfile(c.From) {
			continue
		}
		total.OutOfAll++
		if !r.taken(p.ID, i) {
			total.Skipped++
			continue
		}
		changes = append(changes, c)
	}
	scores := make([]Score, len(changes))
	err = each(len(changes), func(i int) error {
		scores[i] = r.tryFigure(ctx, p, changes[i], units, kept)
		return ctx.Err()
	})
	for _, s := range scores {
		total.add(s)
	}
	return &total, err
}

// kept reports whether the figures kept for reading are those of the profile.
func (r *runner) kept(p *profile.Profile) (bool, error) {
	if r.o.Pinned == nil {
		return false, nil
	}
	text, ok := r.o.Pinned(p.ID)
	if !ok {
		return false, nil
	}
	var now strings.Builder
	if err := WriteFigures(&now, p); err != nil {
		return false, err
	}
	if now.String() == text {
		return true, nil
	}
	line, was, is := firstDifference(text, now.String())
	r.problem(Problem{Code: "pinned_differ", Profile: p.ID, File: path.Join("profiles", p.ID, "profile.json"),
		Message: fmt.Sprintf("the figures of %s are not those kept for reading: line %d was %q and is %q", p.ID, line, was, is),
		Hint:    "read the difference; backpitch profile show " + p.ID + " prints what to keep"})
	return false, nil
}

func firstDifference(a, b string) (line int, was, is string) {
	x, y := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := 0; i < len(x) || i < len(y); i++ {
		if i < len(x) {
			was = strings.TrimSpace(x[i])
		} else {
			was = ""
		}
		if i < len(y) {
			is = strings.TrimSpace(y[i])
		} else {
			is = ""
		}
		if was != is {
			return i + 1, was, is
		}
	}
	return 1, "the spacing", "other spacing"
}

// tryFigure asks first the published cases, which know nothing of the profile,
// then the proof, then the figures kept for reading.
func (r *runner) tryFigure(ctx context.Context, p *profile.Profile, c profile.Change, units map[string]*policy.Unit, kept bool) Score {
	s := Score{Changes: 1}
	changed := p.Changed(c)
	for _, x := range r.o.Cases[p.ID] {
		if u := units[x.Rule]; u != nil && u.Reads(c.Table) && otherwise(ctx, u.Under(changed), []Case{x}, outcomeOnly) {
			s.Law = 1
			return s
		}
	}
	for _, x := range r.proofs[p.ID] {
		if x.Table == c.Table && x.Row == c.Row && units[x.Rule] != nil && otherwise(ctx, units[x.Rule].Under(changed), x.Cases, outcomeOnly) {
			s.Verdict = 1
			return s
		}
	}
	if kept && printed(p, c) != printed(changed, c) {
		s.Pinned = 1
		return s
	}
	s.Unseen = 1
	hint := "keep its figures for reading: backpitch profile show " + p.ID
	r.problem(Problem{Code: "figure_unnoticed", Profile: p.ID, File: path.Join("profiles", c.From, "profile.json"),
		Message: fmt.Sprintf("under %s nobody notices: %s", p.ID, c), Hint: hint})
	return s
}
