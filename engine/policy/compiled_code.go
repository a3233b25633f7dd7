package policy

import (
	"encoding/binary"
	"fmt"

	"github.com/open-policy-agent/opa/v1/ast"
)

// The modules of a compiler, written down: OPA can neither write nor read them
// itself. Terms without a body stand in one table and are shared; a place in
// the source is not written, since nothing but an error asks for it.

// Kinds of values.
const (
	nullValue byte = iota
	falseValue
	trueValue
	numberValue
	stringValue
	varValue
	refValue
	callValue
	arrayValue
	setValue
	objectValue
	arrayComprehension
	setComprehension
	objectComprehension
)

// Kinds of expressions, and what else is said of them.
const (
	termExpr byte = iota
	callExpr
	everyExpr
	notExpr
	exprKinds = 3 // the bits of a kind

	negatedExpr   = 1 << 2
	generatedExpr = 1 << 3
	withExpr      = 1 << 4
	explicitBody  = 1 << 5
)

// How a term is written: none, in place, or its number in the table and two.
const (
	noTerm = iota
	termInPlace
	firstTerm
)

// encoder writes modules; what it cannot write it panics about, since it
// writes only what a test asks for.
type encoder struct {
	words     map[string]int
	wordList  []byte
	terms     map[string]int
	termList  []byte
	termCount int
}

func newEncoder() *encoder { return &encoder{words: map[string]int{}, terms: map[string]int{}} }

func putNumber(b []byte, n int) []byte { return binary.AppendUvarint(b, uint64(n)) }

func putText(b []byte, s string) []byte { return append(putNumber(b, len(s)), s...) }

func (e *encoder) word(b []byte, s string) []byte {
	n, known := e.words[s]
	if !known {
		n = len(e.words)
		e.words[s] = n
		e.wordList = putText(e.wordList, s)
	}
	return putNumber(b, n)
}

func (e *encoder) list(b []byte, words []string) []byte {
	b = putNumber(b, len(words))
	for _, s := range words {
		b = e.word(b, s)
	}
	return b
}

func (e *encoder) term(b []byte, t *ast.Term) []byte {
	if t == nil {
		return putNumber(b, noTerm)
	}
	value := e.value(nil, t.Value)
	if hasBody(t.Value) {
		return append(putNumber(b, termInPlace), value...)
	}
	n, known := e.terms[string(value)]
	if !known {
		n = e.termCount
		e.termCount++
		e.terms[string(value)] = n
		e.termList = append(e.termList, value...)
	}
	return putNumber(b, firstTerm+n)
}

func hasBody(v ast.Value) bool {
	found := false
	ast.WalkClosures(v, func(any) bool { found = true; return true })
	return found
}

func (e *encoder) termsOf(b []byte, kind byte, terms []*ast.Term) []byte {
	b = putNumber(append(b, kind), len(terms))
	for _, t := range terms {
		b = e.term(b, t)
	}
	return b
}

func (e *encoder) value(b []byte, v ast.Value) []byte {
	switch v := v.(type) {
	case ast.Null:
		return append(b, nullValue)
	case ast.Boolean:
		if v {
			return append(b, trueValue)
		}
		return append(b, falseValue)
	case ast.Number:
		return e.word(append(b, numberValue), string(v))
	case ast.String:
		return e.word(append(b, stringValue), string(v))
	case ast.Var:
		return e.word(append(b, varValue), string(v))
	case ast.Ref:
		return e.termsOf(b, refValue, v)
	case ast.Call:
		return e.termsOf(b, callValue, v)
	case *ast.Array:
		var items []*ast.Term
		v.Foreach(func(t *ast.Term) { items = append(items, t) })
		return e.termsOf(b, arrayValue, items)
	case ast.Set:
		return e.termsOf(b, setValue, v.Slice())
	case ast.Object:
		var items []*ast.Term
		for _, key := range v.Keys() { // sorted
			items = append(items, key, v.Get(key))
		}
		return e.termsOf(b, objectValue, items)
	case *ast.ArrayComprehension:
		return e.body(e.term(append(b, arrayComprehension), v.Term), v.Body)
	case *ast.SetComprehension:
		return e.body(e.term(append(b, setComprehension), v.Term), v.Body)
	case *ast.ObjectComprehension:
		return e.body(e.term(e.term(append(b, objectComprehension), v.Key), v.Value), v.Body)
	}
	panic(fmt.Sprintf("policy: a compiled rule holds a %T", v))
}

func (e *encoder) body(b []byte, body ast.Body) []byte {
	b = putNumber(b, len(body))
	for _, x := range body {
		b = e.expr(b, x)
	}
	return b
}

func (e *encoder) expr(b []byte, x *ast.Expr) []byte {
	flags := len(b)
	b = putNumber(append(b, 0), x.Index)
	if x.Negated {
		b[flags] |= negatedExpr
	}
	if x.Generated {
		b[flags] |= generatedExpr
	}
	if len(x.With) > 0 {
		b[flags] |= withExpr
		b = putNumber(b, len(x.With))
		for _, w := range x.With {
			b = e.term(e.term(b, w.Target), w.Value)
		}
	}
	switch terms := x.Terms.(type) {
	case *ast.Term:
		b[flags] |= termExpr
		return e.term(b, terms)
	case []*ast.Term:
		b[flags] |= callExpr
		b = putNumber(b, len(terms))
		for _, t := range terms {
			b = e.term(b, t)
		}
		return b
	case *ast.Every:
		b[flags] |= everyExpr
		return e.body(e.term(e.term(e.term(b, terms.Key), terms.Value), terms.Domain), terms.Body)
	case *ast.Not:
		b[flags] |= notExpr
		if terms.ExplicitBody {
			b[flags] |= explicitBody
		}
		return e.body(b, terms.Body)
	}
	panic(fmt.Sprintf("policy: a compiled rule holds a line of %T", x.Terms))
}

// Parts that a rule has or has not.
const (
	defaultRule = 1 << iota
	assignedRule
	elseRule
)

func (e *encoder) rule(b []byte, r *ast.Rule) []byte {
	flags := len(b)
	b = append(b, 0)
	if r.Default {
		b[flags] |= defaultRule
	}
	if r.Head.Assign {
		b[flags] |= assignedRule
	}
	b = e.word(b, string(r.Head.Name))
	b = e.term(b, ast.NewTerm(r.Head.Reference))
	b = e.termsOf(b, arrayValue, r.Head.Args)
	b = e.term(e.term(b, r.Head.Key), r.Head.Value)
	b = e.body(b, r.Body)
	if r.Else != nil {
		b[flags] |= elseRule
		b = e.rule(b, r.Else)
	}
	return b
}

func (e *encoder) module(b []byte, m *ast.Module) []byte {
	b = e.term(b, ast.NewTerm(m.Package.Path))
	b = putNumber(b, len(m.Rules))
	for _, r := range m.Rules {
		b = e.rule(b, r)
	}
	return b
}

// decoder reads what encoder wrote. It trusts it: the text is part of the
// program, and a test compares it with what it should be.
type decoder struct {
	text  string
	at    int
	words []string
	terms []*ast.Term
}

func (d *decoder) number() int {
	if c := d.text[d.at]; c < 0x80 {
		d.at++
		return int(c)
	}
	n := 0
	for shift := 0; ; shift += 7 {
		c := d.text[d.at]
		d.at++
		n |= int(c&0x7F) << shift
		if c < 0x80 {
			return n
		}
	}
}

func (d *decoder) byte() byte {
	d.at++
	return d.text[d.at-1]
}

func (d *decoder) slice(n int) string {
	d.at += n
	return d.text[d.at-n : d.at]
}

func (d *decoder) word() string { return d.words[d.number()] }

func (d *decoder) list() []string {
	n := d.number()
	if n == 0 {
		return nil
	}
	out := make([]string, n)
	for i := range out {
		out[i] = d.word()
	}
	return out
}

// tables reads the words and the terms that modules share.
func (d *decoder) tables() {
	d.words = make([]string, d.number())
	for i := range d.words {
		d.words[i] = d.slice(d.number())
	}
	all := make([]ast.Term, d.number())
	d.terms = make([]*ast.Term, 0, len(all))
	for i := range all {
		all[i].Value = d.value()
		d.terms = append(d.terms, &all[i])
	}
}

func (d *decoder) term() *ast.Term {
	switch n := d.number(); n {
	case noTerm:
		return nil
	case termInPlace:
		return ast.NewTerm(d.value())
	default:
		return d.terms[n-firstTerm]
	}
}

func (d *decoder) termsOf() []*ast.Term {
	n := d.number()
	if n == 0 {
		return nil
	}
	out := make([]*ast.Term, n)
	for i := range out {
		out[i] = d.term()
	}
	return out
}

func (d *decoder) value() ast.Value {
	switch kind := d.byte(); kind {
	case nullValue:
		return ast.NullValue
	case falseValue:
		return ast.Boolean(false)
	case trueValue:
		return ast.Boolean(true)
	case numberValue:
		return ast.Number(d.word())
	case stringValue:
		return ast.String(d.word())
	case varValue:
		return ast.Var(d.word())
	case refValue:
		return ast.Ref(d.termsOf())
	case callValue:
		return ast.Call(d.termsOf())
	case arrayValue:
		return ast.NewArray(d.termsOf()...)
	case setValue:
		return ast.NewSet(d.termsOf()...)
	case objectValue:
		items := d.termsOf()
		pairs := make([][2]*ast.Term, len(items)/2)
		for i := range pairs {
			pairs[i] = [2]*ast.Term{items[2*i], items[2*i+1]}
		}
		return ast.NewObject(pairs...)
	case arrayComprehension:
		return &ast.ArrayComprehension{Term: d.term(), Body: d.body()}
	case setComprehension:
		return &ast.SetComprehension{Term: d.term(), Body: d.body()}
	case objectComprehension:
		return &ast.ObjectComprehension{Key: d.term(), Value: d.term(), Body: d.body()}
	default:
		panic(fmt.Sprintf("policy: no kind of value is %d", kind))
	}
}

func (d *decoder) body() ast.Body {
	n := d.number()
	if n == 0 {
		return nil
	}
	exprs := make([]ast.Expr, n)
	out := make(ast.Body, n)
	for i := range out {
		out[i] = &exprs[i]
		d.expr(out[i])
	}
	return out
}

func (d *decoder) expr(x *ast.Expr) {
	flags := d.byte()
	x.Index = d.number()
	x.Negated, x.Generated = flags&negatedExpr != 0, flags&generatedExpr != 0
	if flags&withExpr != 0 {
		x.With = make([]*ast.With, d.number())
		for i := range x.With {
			x.With[i] = &ast.With{Target: d.term(), Value: d.term()}
		}
	}
	switch flags & exprKinds {
	case termExpr:
		x.Terms = d.term()
	case callExpr:
		x.Terms = d.termsOf()
	case everyExpr:
		x.Terms = &ast.Every{Key: d.term(), Value: d.term(), Domain: d.term(), Body: d.body()}
	case notExpr:
		x.Terms = &ast.Not{Body: d.body(), ExplicitBody: flags&explicitBody != 0}
	}
}

func (d *decoder) rule(m *ast.Module) *ast.Rule {
	flags := d.byte()
	r := &ast.Rule{Module: m, Default: flags&defaultRule != 0, Head: &ast.Head{Assign: flags&assignedRule != 0}}
	h := r.Head
	h.Name = ast.Var(d.word())
	h.Reference, _ = d.term().Value.(ast.Ref)
	d.byte() // that arguments are a list
	h.Args = d.termsOf()
	h.Key, h.Value = d.term(), d.term()
	r.Body = d.body()
	if flags&elseRule != 0 {
		r.Else = d.rule(m)
	}
	return r
}

func (d *decoder) module() *ast.Module {
	path, _ := d.term().Value.(ast.Ref)
	m := &ast.Module{Package: &ast.Package{Path: path}}
	m.Rules = make([]*ast.Rule, d.number())
	for i := range m.Rules {
		m.Rules[i] = d.rule(m)
	}
	return m
}
