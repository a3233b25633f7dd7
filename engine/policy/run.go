package policy

import (
	"context"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/metrics"
	"github.com/open-policy-agent/opa/v1/storage"
	"github.com/open-policy-agent/opa/v1/topdown"
)

// run asks the rules of one design, each by a query of its own: one query for
// all keeps every rule before it on the stack, and took a third longer.
type run struct {
	out    *Prepared
	input  *ast.Term
	txn    storage.Transaction
	cancel topdown.Cancel
}

const rowVar = ast.Var("x")

// begin starts a run; end must be called.
func (out *Prepared) begin(ctx context.Context, input ast.Value) (r *run, end func(), err error) {
	txn, err := out.store.NewTransaction(ctx)
	if err != nil {
		return nil, nil, err
	}
	r = &run{out: out, input: ast.NewTerm(input), txn: txn, cancel: topdown.NewCancel()}
	stop := context.AfterFunc(ctx, r.cancel.Cancel)
	return r, func() { stop(); out.store.Abort(ctx, txn) }, nil
}

// row asks one rule and returns its subjects and the verdicts of its bodies.
func (r *run) row(ctx context.Context, m *module) (*ast.Array, error) {
	q := topdown.NewQuery(m.query).WithCompiler(r.out.compiler).WithStore(r.out.store).WithTransaction(r.txn).
		WithInput(r.input).WithBuiltins(nativeBuiltins()).WithBaseCache(r.out.tables).WithCancel(r.cancel).
		WithStrictBuiltinErrors(true).WithMetrics(metrics.NoOp())
	var row *ast.Array
	err := q.Iter(ctx, func(result topdown.QueryResult) error {
		if t := result[rowVar]; t != nil {
			row, _ = t.Value.(*ast.Array)
		}
		return nil
	})
	return row, err
}

// tables answers for data.profile without the store, which would turn each
// table into OPA's values anew for each design. It never changes.
type tables struct{ profile ast.Value }

// Get implements [topdown.BaseCache].
func (t tables) Get(ref ast.Ref) ast.Value {
	if len(ref) < 2 || word(ref[1].Value) != "profile" {
		return nil
	}
	v, err := t.profile.Find(ref[2:])
	if err != nil {
		return nil
	}
	return v
}

// Put implements [topdown.BaseCache].
func (tables) Put(ast.Ref, ast.Value) {}
