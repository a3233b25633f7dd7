package policy

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"sync"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/storage/inmem"
	"github.com/open-policy-agent/opa/v1/topdown"
)

// Seeds runs the rule's own Rego tests and returns the facts that they put
// before it, each once and in the order of the tests: maps, lists, words,
// truth values and int64. They are found once and shared: do not change them.
func (u *Unit) Seeds(ctx context.Context) ([]any, error) {
	u.seeding.Lock()
	defer u.seeding.Unlock()
	if u.seeds == nil {
		seeds, err := u.findSeeds(ctx)
		if err != nil {
			return nil, err
		}
		u.seeds = seeds
	}
	return u.seeds, nil
}

func (u *Unit) findSeeds(ctx context.Context) ([]any, error) {
	t := &inputTracer{rule: u.parsed.Package.Path}
	for _, name := range u.TestNames() {
		if _, err := u.test(ctx, name, t); err != nil {
			return nil, fromEval(err, u.ID, u.File)
		}
	}
	out := make([]any, 0, len(t.inputs))
	for _, in := range t.inputs {
		v, err := ast.JSON(in)
		if err != nil {
			return nil, fmt.Errorf("facts in the tests of %s: %w", u.ID, err)
		}
		out = append(out, wholeNumbers(v))
	}
	return out, nil
}

// inputTracer notes the input of every rule of one package that is entered.
type inputTracer struct {
	rule   ast.Ref
	mu     sync.Mutex
	inputs []ast.Value
}

func (t *inputTracer) Enabled() bool               { return true }
func (t *inputTracer) Config() topdown.TraceConfig { return topdown.TraceConfig{} }

func (t *inputTracer) TraceEvent(e topdown.Event) {
	rule, ok := e.Node.(*ast.Rule)
	if !ok || e.Op != topdown.EnterOp || e.Input() == nil || !rule.Module.Package.Path.Equal(t.rule) {
		return
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	in := e.Input().Value
	if !slices.ContainsFunc(t.inputs, func(v ast.Value) bool { return v.Compare(in) == 0 }) {
		t.inputs = append(t.inputs, in)
	}
}

// wholeNumbers turns json.Number into int64 in place.
func wholeNumbers(v any) any {
	switch v := v.(type) {
	case map[string]any:
		for k, x := range v {
			v[k] = wholeNumbers(x)
		}
	case []any:
		for i, x := range v {
			v[i] = wholeNumbers(x)
		}
	case json.Number:
		if n, err := v.Int64(); err == nil {
			return n
		}
		f, _ := v.Float64()
		return f
	}
	return v
}

// TestNames lists the Rego tests of the rule in the order of the file.
func (u *Unit) TestNames() []string {
	if u.tests == nil {
		return nil
	}
	var out []string
	for _, r := range u.tests.Rules {
		name := word(r.Head.Ref()[0].Value)
		if strings.HasPrefix(name, "test_") && !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return out
}

// test runs one Rego test; true when it passes.
func (u *Unit) test(ctx context.Context, name string, tracer topdown.QueryTracer) (bool, error) {
	if err := u.ready(); err != nil {
		return false, err
	}
	query, err := u.compiler.QueryCompiler().Compile(ast.NewBody(ast.Equality.Expr(ast.VarTerm("x"),
		ast.NewTerm(u.tests.Package.Path.Append(ast.StringTerm(name))))))
	if err != nil {
		return false, err
	}
	x, err := u.run(ctx, inmem.New(), nil, query, tracer)
	return x != nil && x.Compare(ast.Boolean(true)) == 0, err
}

// FirstFailing runs the rule's Rego tests until one fails and returns its
// name, "" where all pass. A test that breaks has failed.
func (u *Unit) FirstFailing(ctx context.Context) string {
	for _, name := range u.TestNames() {
		if ok, err := u.test(ctx, name, nil); err != nil || !ok {
			return name
		}
	}
	return ""
}
