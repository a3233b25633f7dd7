package proof

import (
	"context"
	"fmt"
	"path"
	"slices"

	"backpitch/engine/policy"
	"backpitch/engine/profile"
)

// prove makes the proofs of every adopted rule under every profile.
func (r *runner) prove(ctx context.Context) error {
	type task struct {
		p      *profile.Profile
		u      *policy.Unit
		proofs []Proof
	}
	var tasks []*task
	for _, p := range r.profiles {
		for _, u := range r.bench.Adopted(p) {
			if r.concernsOwn(p, u) {
				tasks = append(tasks, &task{p: p, u: u})
			}
		}
	}
	err := each(len(tasks), func(i int) error {
		t := tasks[i]
		seeds, err := t.u.Seeds(ctx)
		if err != nil {
			return err
		}
		pr := &prover{unit: t.u, p: t.p, trial: t.u.Under(t.p), seeds: seeds, hints: &hints{},
			leaves: func(f figure) bool { return !r.own(t.u.File) && !r.ownProfile(f.from) },
			waived: func(f figure) bool { return r.waivers.figure(t.p, t.u.ID, f.table, f.text) != nil }}
		t.proofs, err = pr.prove(ctx)
		return err
	})
	if err != nil {
		return err
	}
	at := 0
	for _, p := range r.profiles {
		c := Coverage{Profile: p.ID}
		for ; at < len(tasks) && tasks[at].p == p; at++ {
			r.count(&c, p, tasks[at].u, tasks[at].proofs)
			r.proofs[p.ID] = append(r.proofs[p.ID], tasks[at].proofs...)
		}
		r.report.Profiles = append(r.report.Profiles, c)
	}
	return nil
}

// concernsOwn reports whether the rule, or a figure that it reads, is under
// test.
func (r *runner) concernsOwn(p *profile.Profile, u *policy.Unit) bool {
	if r.own(u.File) {
		return true
	}
	pr := &prover{unit: u, p: p}
	return slices.ContainsFunc(pr.figures(), func(f figure) bool { return r.ownProfile(f.from) })
}

// count adds the proofs of one rule and reports those that could not be made.
func (r *runner) count(c *Coverage, p *profile.Profile, u *policy.Unit, proofs []Proof) {
	c.Adoptions++
	whole := true
	for _, x := range proofs {
		c.Figures++
		c.Cases += len(x.Cases)
		waiver := r.waivers.figure(p, u.ID, x.Table, x.Key)
		switch {
		case x.Why == "" && x.NoLimit:
			c.NoLimit++
		case x.Why == "" && x.Numeric:
			c.Boundary++
		case x.Why == "":
			c.Words++
		case waiver != nil:
			c.Waived++
			waiver.used = true
		default:
			c.Unproved++
			whole = false
			r.unproved(p, u, x)
		}
	}
	if u.Quantity != "" && !u.NoBoundary {
		c.Numeric++
		if whole {
			c.Proved++
		}
	}
}

func (r *runner) unproved(p *profile.Profile, u *policy.Unit, x Proof) {
	if !r.own(u.File) && !r.ownProfile(p.ID) {
		return
	}
	what := "its limit"
	if x.Table != "" {
		what = x.Table
		if x.Key != "" {
			what += ", " + x.Key
		}
	}
	problem := Problem{Code: "not_proved", Profile: p.ID, Rule: u.ID, File: u.File, Line: 1,
		Message: fmt.Sprintf("under %s %s is not proved for %s: %s", p.ID, what, u.ID, x.Why),
		Hint:    "add a Rego test whose facts pass and rest on the figure, or say in " + waiverFile + " why no verdict can"}
	if !r.own(u.File) {
		problem.File, problem.Line = path.Join("profiles", p.ID, "profile.json"), 0
	}
	r.problem(problem)
}
