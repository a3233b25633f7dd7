package policy

import (
	"context"

	"github.com/open-policy-agent/opa/v1/ast"

	"backpitch/engine/facts"
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
