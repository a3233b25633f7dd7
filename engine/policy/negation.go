package policy

import (
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"
)

// negations refuses `not p.kind in {…}`, `not p.length > 3` and `not small(p.dn)`
// where the fact can be absent. OPA lifts the argument out of the negation, so
// that the line is undefined, not true, and a subject would be skipped without
// a word. `not p.kind == "x"` and `not small(p)` are sound.
func (c *checker) negations() {
	for _, rule := range c.parsed.Rules {
		inSubject := word(rule.Head.Ref()[0].Value) == "subject"
		ast.WalkExprs(rule, func(e *ast.Expr) bool {
			call, negated := negatedCall(e)
			if !negated {
				return false
			}
			for _, operand := range call[1:] {
				ast.WalkRefs(operand, func(ref ast.Ref) bool {
					if c.absentable(ref, inSubject) {
						c.refuse(e.Location, "move it into a helper that takes the whole subject: not has_trap(p)",
							"where %s is not there, this line is neither true nor false and the subject is lost", ref)
					}
					return false
				})
			}
			return false
		})
	}
}

func negatedCall(e *ast.Expr) ([]*ast.Term, bool) {
	if n, ok := e.Terms.(*ast.Not); ok {
		for _, inner := range n.Body {
			if terms, ok := callTerms(inner); ok {
				return terms, true
			}
		}
		return nil, false
	}
	if !e.Negated {
		return nil, false
	}
	return callTerms(e)
}

// callTerms returns a call that is not a plain equality.
func callTerms(e *ast.Expr) ([]*ast.Term, bool) {
	if t, ok := e.Terms.(*ast.Term); ok {
		call, ok := t.Value.(ast.Call)
		return call, ok
	}
	terms, ok := e.Terms.([]*ast.Term)
	if !ok || e.IsEquality() || terms[0].Value.String() == ast.Equal.Name {
		return nil, false
	}
	return terms, true
}

// absentable reports whether a reference can be undefined: a fact that is not
// always there, or in a subject a table entry.
func (c *checker) absentable(ref ast.Ref, inSubject bool) bool {
	if hasPrefix(ref, "data", "profile") {
		return inSubject
	}
	if _, local := ref[0].Value.(ast.Var); !local || hasPrefix(ref, "data") || len(ref) < 2 {
		return false
	}
	name, ok := ref[len(ref)-1].Value.(ast.String)
	if !ok {
		return false
	}
	for _, imp := range c.parsed.Imports {
		if strings.HasSuffix(imp.Path.String(), "."+ref[0].Value.String()) {
			return false // judge.within
		}
	}
	return !c.always(string(name))
}

// always reports whether every subject has a fact of that name.
func (c *checker) always(name string) bool {
	if f := c.fields(); f != nil && f.Properties[name] != nil {
		return f.requires(name)
	}
	known := false
	for group := range factsSchema().root.Properties {
		if f := factsSchema().group(group); f.Properties[name] != nil {
			known = true
			if !f.requires(name) {
				return false
			}
		}
	}
	return known
}

// presence refuses a subject that is only found where an optional fact is
// stated: p.lie == "horizontal" passes over every drain whose lie is not known.
// not p.lie == "vertical" keeps them, and they become open. A line that is the
// fact alone says plainly that the rule is about those that have it.
func (c *checker) presence() {
	f := c.fields()
	if f == nil {
		return
	}
	for _, rule := range c.named("subject") {
		ast.WalkExprs(rule, func(e *ast.Expr) bool {
			_, bare := e.Terms.(*ast.Term)
			if e.IsNegated() || bare {
				return true
			}
			ast.WalkRefs(e, func(ref ast.Ref) bool {
				if len(ref) < 2 || hasPrefix(ref, "data") || hasPrefix(ref, "input") {
					return false
				}
				name, ok := ref[1].Value.(ast.String)
				if ok && f.Properties[string(name)] != nil && !f.requires(string(name)) {
					c.refuse(e.Location, "turn it round, so that the subject stays and is open: not p.lie == \"vertical\"",
						"where %s is not stated, the subject is lost without a word", ref)
				}
				return false
			})
			return false
		})
	}
}
