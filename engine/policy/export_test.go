package policy

import (
	"context"
	"io/fs"

	"github.com/open-policy-agent/opa/v1/ast"

	"backpitch/engine/facts"
	"backpitch/engine/profile"
)

// InputOf is what rules read as input.
func InputOf(f *facts.Facts) ast.Value { return valueOf(f) }

// Asked prepares a query of one rule: subject, or subject and verdict. What it
// returns evaluates the rule by itself and gives the number of subjects.
func (out *Prepared) Asked(ctx context.Context, rule string, verdict bool) (func(input ast.Value) (subjects int, err error), error) {
	query := ruleRef(rule) + ".subject"
	if verdict {
		query = "[" + query + ", " + ruleRef(rule) + ".verdict]"
	}
	q, err := out.prepare(ctx, query)
	if err != nil {
		return nil, err
	}
	return func(input ast.Value) (int, error) {
		v, err := eval(ctx, q, input)
		if a, ok := v.(*ast.Array); ok {
			v = a.Elem(0).Value
		}
		o, ok := v.(ast.Object)
		if err != nil || !ok {
			return 0, err
		}
		return o.Len(), nil
	}, nil
}

// PrepareSome prepares some of the rules that a profile adopts.
func PrepareSome(ctx context.Context, fsys fs.FS, p *profile.Profile, ids []string) (*Prepared, error) {
	return prepareSome(ctx, fsys, p, ids)
}

// Evaluate asks all rules and leaves their answers as they are.
func (out *Prepared) Evaluate(ctx context.Context, input ast.Value) error {
	_, err := eval(ctx, out.query, input)
	return err
}
