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

// Asked evaluates one rule by itself and gives the number of its subjects.
func (out *Prepared) Asked(ctx context.Context, rule string, input ast.Value) func() (subjects int, err error) {
	m := out.modules[rule]
	return func() (int, error) {
		run, end, err := out.begin(ctx, input)
		if err != nil {
			return 0, err
		}
		defer end()
		row, err := run.row(ctx, m)
		if err != nil {
			return 0, err
		}
		return row.Elem(0).Value.(ast.Object).Len(), nil
	}
}

// PrepareSome prepares some of the rules that a profile adopts.
func PrepareSome(ctx context.Context, fsys fs.FS, p *profile.Profile, ids []string) (*Prepared, error) {
	return prepareSome(ctx, fsys, p, ids)
}

// Evaluate asks all rules and leaves their answers as they are.
func (out *Prepared) Evaluate(ctx context.Context, input ast.Value) error {
	run, end, err := out.begin(ctx, input)
	if err != nil {
		return err
	}
	defer end()
	for _, m := range out.modules {
		if hasNone(input, m.groups) {
			continue
		}
		if _, err := run.row(ctx, m); err != nil {
			return err
		}
	}
	return nil
}
