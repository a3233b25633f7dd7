package proof

import (
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
