package policy

import (
	"maps"
	"slices"
	"strings"
	"sync"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/topdown"
	"github.com/open-policy-agent/opa/v1/types"
)

// The functions of lib.judge and lib.table that nearly every verdict calls,
// in Go. Rego stays the definition: these are used only where the library is
// the very text that they were compared with (see nativeLibrary), and the
// tests hold each to it. In Rego, one comparison at a limit is some fifteen
// expressions and four calls, a third of the time it takes to judge a design.
var natives = map[string]native{
	"judge.at_least":       {2, atLeast},
	"judge.at_most":        {2, atMost},
	"judge.above":          {2, above},
	"judge.between":        {3, between},
	"judge.at_least_range": {4, func(c call) (*ast.Term, error) { return c.overRange(1, atLeast) }},
	"judge.at_most_range":  {4, func(c call) (*ast.Term, error) { return c.overRange(1, atMost) }},
	"judge.between_range":  {5, func(c call) (*ast.Term, error) { return c.overRange(2, between) }},
	"judge.same":           {2, same},
	"judge.is_true":        {1, func(c call) (*ast.Term, error) { return same(c.with(c.args[0], ast.InternedTerm(true))) }},
	"judge.is_false":       {1, func(c call) (*ast.Term, error) { return same(c.with(c.args[0], ast.InternedTerm(false))) }},
	"judge.one_of":         {2, oneOf},
	"judge.in_order":       {2, inOrder},
	"judge.none":           {1, none},
	"judge.person_decides": {1, func(c call) (*ast.Term, error) { return words(c, "review", "person_decides") }},
	"judge.not_required":   {1, func(c call) (*ast.Term, error) { return words(c, "pass", "not_required") }},
	"table.at_or_below":    {2, atOrBelow},
	"table.at_or_above":    {2, atOrAbove},
}

// native is one function: how many arguments it takes, and what it answers;
// nil where Rego would be undefined.
type native struct {
	arity  int
	answer func(call) (*ast.Term, error)
}

// call is one call of a native function.
type call struct {
	topdown.BuiltinContext
	args []*ast.Term
}

func (c call) with(args ...*ast.Term) call { return call{c.BuiltinContext, args} }

// nativeSpace is where the compiler finds the functions; a rule that names it
// is refused (see references), as stock OPA would refuse it.
const nativeSpace = "backpitch."

// nativeDecls declares the functions to the compiler.
func nativeDecls() map[string]*ast.Builtin {
	out := make(map[string]*ast.Builtin, len(natives))
	for name, n := range natives {
		out[nativeSpace+name] = &ast.Builtin{Name: nativeSpace + name, Decl: n.decl()}
	}
	return out
}

// withNatives is what rules may call, and what the compiler may make of it.
var withNatives = sync.OnceValue(func() *ast.Capabilities {
	c := *capabilities()
	c.Builtins = slices.Clone(c.Builtins)
	for _, name := range slices.Sorted(maps.Keys(natives)) {
		c.Builtins = append(c.Builtins, nativeDecls()[nativeSpace+name])
	}
	return &c
})

func (n native) decl() *types.Function {
	args := make([]types.Type, n.arity)
	for i := range args {
		args[i] = types.A
	}
	return types.NewFunction(args, types.A)
}

// nativeBuiltins gives the functions to a query.
var nativeBuiltins = sync.OnceValue(func() map[string]*topdown.Builtin {
	out := make(map[string]*topdown.Builtin, len(natives))
	for name, decl := range nativeDecls() {
		answer := natives[strings.TrimPrefix(name, nativeSpace)].answer
		out[name] = &topdown.Builtin{Decl: decl, Func: func(ctx topdown.BuiltinContext, args []*ast.Term, iter func(*ast.Term) error) error {
			result, err := answer(call{ctx, args})
			if err != nil || result == nil {
				return err
			}
			return iter(result)
		}}
	}
	return out
})

// Keys and words of a verdict.
var (
	keyOutcome, keyOp      = ast.InternedTerm("outcome"), ast.InternedTerm("op")
	keyMeasured, keyLimit  = ast.InternedTerm("measured"), ast.InternedTerm("limit")
	keyDetail, keyRange    = ast.InternedTerm("detail"), ast.InternedTerm("range")
	keyAt, keyValue        = ast.InternedTerm("at"), ast.InternedTerm("value")
	wordPass, wordFail     = ast.InternedTerm("pass"), ast.InternedTerm("fail")
	wordReview             = ast.InternedTerm("review")
	numberZero, numberTen4 = ast.InternedTerm(0), ast.InternedTerm(10000)
	numberTen, noItems     = ast.InternedTerm(10), ast.ArrayTerm()
)

func verdictTerm(passes bool, op string, measured, limit *ast.Term) *ast.Term {
	outcome := wordFail
	if passes {
		outcome = wordPass
	}
	return ast.ObjectTerm([2]*ast.Term{keyOutcome, outcome}, [2]*ast.Term{keyOp, ast.InternedTerm(op)},
		[2]*ast.Term{keyMeasured, measured}, [2]*ast.Term{keyLimit, limit})
}

func words(c call, outcome, op string) (*ast.Term, error) {
	if _, ok := c.args[0].Value.(ast.String); !ok {
		return nil, nil
	}
	return ast.ObjectTerm([2]*ast.Term{keyOutcome, ast.InternedTerm(outcome)}, [2]*ast.Term{keyOp, ast.InternedTerm(op)},
		[2]*ast.Term{keyDetail, c.args[0]}), nil
}

func areNumbers(terms ...*ast.Term) bool {
	for _, t := range terms {
		if _, ok := t.Value.(ast.Number); !ok {
			return false
		}
	}
	return true
}

func atLeast(c call) (*ast.Term, error) {
	measured, limit := c.args[0], c.args[1]
	if !areNumbers(measured, limit) {
		return nil, nil
	}
	passes, err := c.within(limit, measured, limit)
	if err != nil {
		return nil, err
	}
	return verdictTerm(passes, "at_least", measured, limit), nil
}

func atMost(c call) (*ast.Term, error) {
	measured, limit := c.args[0], c.args[1]
	if !areNumbers(measured, limit) {
		return nil, nil
	}
	passes, err := c.within(measured, limit, limit)
	if err != nil {
		return nil, err
	}
	return verdictTerm(passes, "at_most", measured, limit), nil
}

func above(c call) (*ast.Term, error) {
	measured, limit := c.args[0], c.args[1]
	if !areNumbers(measured, limit) {
		return nil, nil
	}
	return verdictTerm(ast.Compare(measured.Value, limit.Value) > 0, "above", measured, limit), nil
}

func between(c call) (*ast.Term, error) {
	measured, low, high := c.args[0], c.args[1], c.args[2]
	if !areNumbers(measured, low, high) {
		return nil, nil
	}
	above, err := c.within(low, measured, low)
	if err != nil {
		return nil, err
	}
	below, err := c.within(measured, high, high)
	if err != nil {
		return nil, err
	}
	return verdictTerm(above && below, "between", measured, ast.ArrayTerm(low, high)), nil
}

// within says whether a - b, what a value lies beyond its limit, is still at
// the limit.
func (c call) within(a, b, limit *ast.Term) (bool, error) {
	x, isWhole := smallWhole(a)
	y, bIsWhole := smallWhole(b)
	if isWhole && bIsWhole && x <= y {
		return true, nil
	}
	if l, ok := smallWhole(limit); ok && isWhole && bIsWhole {
		beyond := x - y
		return beyond <= 10 && beyond*10000 <= max(l, -l), nil
	}
	// Fractions and huge numbers are left to OPA's own arithmetic.
	beyond, err := c.ask(ast.Minus.Name, a, b)
	if err != nil || ast.Compare(beyond.Value, numberZero.Value) <= 0 {
		return err == nil, err
	}
	if ast.Compare(beyond.Value, numberTen.Value) > 0 {
		return false, nil
	}
	scaled, err := c.ask(ast.Multiply.Name, beyond, numberTen4)
	if err != nil {
		return false, err
	}
	size, err := c.ask(ast.Abs.Name, limit)
	if err != nil {
		return false, err
	}
	return ast.Compare(scaled.Value, size.Value) <= 0, nil
}

// smallWhole is a whole number whose sums and differences cannot overflow.
func smallWhole(t *ast.Term) (int64, bool) {
	n, ok := t.Value.(ast.Number)
	if !ok {
		return 0, false
	}
	i, ok := n.Int64()
	return i, ok && i > -1<<61 && i < 1<<61
}

// ask calls a function of OPA that has one result.
func (c call) ask(name string, args ...*ast.Term) (*ast.Term, error) {
	var out *ast.Term
	err := topdown.GetBuiltin(name)(c.BuiltinContext, args, func(t *ast.Term) error { out = t; return nil })
	return out, err
}

// overRange judges low, expected and high, with the limits that follow them.
func (c call) overRange(limits int, judge func(call) (*ast.Term, error)) (*ast.Term, error) {
	low, expected, high := c.args[0], c.args[1], c.args[2]
	var came [3]*ast.Term
	for i, x := range c.args[:3] {
		verdict, err := judge(c.with(append([]*ast.Term{x}, c.args[3:3+limits]...)...))
		if err != nil || verdict == nil {
			return nil, err
		}
		came[i] = verdict
	}
	if ast.Compare(low.Value, expected.Value) > 0 || ast.Compare(expected.Value, high.Value) > 0 {
		return nil, nil // a broken fact: the subject stays open
	}
	verdict := came[1].Value.(ast.Object)
	if ast.Compare(low.Value, high.Value) != 0 {
		verdict.Insert(keyRange, ast.ArrayTerm(low, high))
	}
	passes := func(i int) bool { return came[i].Value.(ast.Object).Get(keyOutcome).Equal(wordPass) }
	atLow, atHigh := passes(0), passes(2)
	detail := ""
	switch {
	case passes(1) && atLow && atHigh, !passes(1) && !atLow && !atHigh:
	case !passes(1) && atLow:
		detail = "the low end of its range, {low}, would pass"
	case !passes(1):
		detail = "the high end of its range, {high}, would pass"
	case atHigh:
		detail = "passes at {measured}, fails at the low end of its range, {low}; the limit is {limit}"
	case atLow:
		detail = "passes at {measured}, fails at the high end of its range, {high}; the limit is {limit}"
	default:
		detail = "passes at {measured}, fails at both ends of its range, {low} and {high}; the limit is {limit}"
	}
	if detail == "" {
		return came[1], nil
	}
	if passes(1) {
		verdict.Insert(keyOutcome, wordReview)
	}
	verdict.Insert(keyDetail, ast.InternedTerm(detail))
	return came[1], nil
}

// scalarType is the type of a word, a number or a truth value, "" for others.
func scalarType(t *ast.Term) string {
	switch t.Value.(type) {
	case ast.String, ast.Number, ast.Boolean:
		return ast.ValueName(t.Value)
	}
	return ""
}

func same(c call) (*ast.Term, error) {
	measured, wanted := c.args[0], c.args[1]
	kind := scalarType(measured)
	if kind == "" || kind != scalarType(wanted) {
		return nil, nil
	}
	return verdictTerm(ast.Compare(measured.Value, wanted.Value) == 0, "same", measured, wanted), nil
}

// list is an array as it is and a set in order, nil for anything else.
func list(t *ast.Term) *ast.Term {
	switch v := t.Value.(type) {
	case *ast.Array:
		return t
	case ast.Set:
		return ast.NewTerm(v.Sorted())
	}
	return nil
}

func oneOf(c call) (*ast.Term, error) {
	measured, allowed := c.args[0], list(c.args[1])
	kind := scalarType(measured)
	if kind == "" || allowed == nil {
		return nil, nil
	}
	items, found := allowed.Value.(*ast.Array), false
	for i := range items.Len() {
		item := items.Elem(i)
		if scalarType(item) != kind {
			return nil, nil
		}
		found = found || ast.Compare(item.Value, measured.Value) == 0
	}
	return verdictTerm(found, "one_of", measured, allowed), nil
}

func inOrder(c call) (*ast.Term, error) {
	measured, ok := c.args[0].Value.(*ast.Array)
	wanted, isList := c.args[1].Value.(*ast.Array)
	if !ok || !isList {
		return nil, nil
	}
	first := func(word *ast.Term) int {
		for i := range measured.Len() {
			if ast.Compare(measured.Elem(i).Value, word.Value) == 0 {
				return i
			}
		}
		return -1
	}
	passes, before := true, -1
	var absent []*ast.Term
	for k := range wanted.Len() {
		at := first(wanted.Elem(k))
		if at < 0 {
			absent = append(absent, wanted.Elem(k))
		}
		passes = passes && at >= 0 && (k == 0 || before >= 0 && before < at)
		before = at
	}
	verdict := verdictTerm(passes, "in_order", c.args[0], c.args[1])
	if len(absent) > 0 {
		list, err := c.ask(ast.Concat.Name, ast.InternedTerm(", "), ast.ArrayTerm(absent...))
		if err != nil {
			return nil, err
		}
		verdict.Value.(ast.Object).Insert(keyDetail, ast.StringTerm(string(list.Value.(ast.String))+" is not there"))
	}
	return verdict, nil
}

func none(c call) (*ast.Term, error) {
	found := list(c.args[0])
	if found == nil {
		return nil, nil
	}
	return verdictTerm(found.Value.(*ast.Array).Len() == 0, "none", found, noItems), nil
}

func atOrBelow(c call) (*ast.Term, error) {
	var last *ast.Term
	err := c.steps(func(at, x *ast.Term) (bool, error) { return c.within(at, x, at) }, func(step *ast.Term) { last = step })
	return valueOfStep(last), err
}

func atOrAbove(c call) (*ast.Term, error) {
	var first *ast.Term
	err := c.steps(func(at, x *ast.Term) (bool, error) { return c.within(x, at, at) }, func(step *ast.Term) {
		if first == nil {
			first = step
		}
	})
	return valueOfStep(first), err
}

// steps visits the steps of a table that fit.
func (c call) steps(fits func(at, x *ast.Term) (bool, error), visit func(*ast.Term)) error {
	x := c.args[1]
	if !areNumbers(x) {
		return nil
	}
	look := func(step *ast.Term) error {
		at := memberTerm(step, keyAt)
		if at == nil {
			return nil
		}
		if !areNumbers(at) {
			// OPA's own words for it.
			_, err := c.ask(ast.Minus.Name, at, x)
			return err
		}
		ok, err := fits(at, x)
		if ok {
			visit(step)
		}
		return err
	}
	switch steps := c.args[0].Value.(type) {
	case *ast.Array:
		return steps.Iter(look)
	case ast.Set:
		return steps.Sorted().Iter(look)
	case ast.Object:
		return steps.Iter(func(_, step *ast.Term) error { return look(step) })
	}
	return nil
}

func memberTerm(t, key *ast.Term) *ast.Term {
	if o, ok := t.Value.(ast.Object); ok {
		return o.Get(key)
	}
	return nil
}

func valueOfStep(step *ast.Term) *ast.Term {
	if step == nil {
		return nil
	}
	return memberTerm(step, keyValue)
}
