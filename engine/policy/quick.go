package policy

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"
)

// quick turns a rule that was read into one that OPA evaluates in less time
// and that gives the same subjects and verdicts, all in one list:
//
//	subject[p.id] := p if { … }        row := [subjects, verdicts] if {
//	verdict[id] := x if {                  subjects := {p.id: p | … }
//	    some id, p in subject; … }         verdicts := [[id, x] | some id, p in subjects; … ] }
//
// with one list of verdicts for each body. A document that grows entry by entry
// is slow in OPA 1.22, which compares each new key with all before it: the
// square of the number of subjects. Calls of lib.judge and lib.table go to
// their twins in Go, where the library is the one the twins were compared with.
//
// A conflict of two answers is found when the lists are read; what to say of it
// is left to the rule as it was written (see blame).
func (m *module) quick(natively bool) *ast.Module {
	m.groups = m.idle()
	out := *m.parsed
	out.Rules = make([]*ast.Rule, 0, len(m.parsed.Rules)+1)
	subjects, verdicts := m.clauses("subject"), m.clauses("verdict")
	listed := len(subjects) > 0 && len(verdicts) > 0 && !m.looksAt("verdict", m.parsed.Rules...) && !declares("subject", verdicts)
	for _, r := range m.parsed.Rules {
		name := word(r.Head.Ref()[0].Value)
		// Helpers that look at the subjects need them under their name.
		if listed && (name == "verdict" || name == "subject" && !m.looksAt("subject", without(m.parsed.Rules, verdicts)...)) {
			continue
		}
		r := *r
		r.Module = &out
		out.Rules = append(out.Rules, &r)
	}
	if listed {
		out.Rules = append(out.Rules, rowRule(&out, subjects, verdicts))
	} else {
		at := func(name string) *ast.Term { return ast.VarTerm(name) }
		out.Rules = append(out.Rules, constant(&out, m.parsed.Package.Location, ast.ArrayTerm(at("subject"), at("verdict")), ast.NewBody(ast.NewExpr(ast.InternedTerm(true)))))
	}
	if natively {
		callNatives(&out)
	}
	return &out
}

// Names that no rule can have given.
const (
	rowName     = "the row"
	subjectsVar = "the subjects"
)

func (m *module) clauses(name string) []*ast.Rule {
	var out []*ast.Rule
	for _, r := range m.parsed.Rules {
		if ref := r.Head.Ref(); word(ref[0].Value) == name {
			if len(ref) != 2 || r.Head.Value == nil || r.Else != nil {
				return nil
			}
			out = append(out, r)
		}
	}
	return out
}

func without(rules, some []*ast.Rule) []*ast.Rule {
	return slices.DeleteFunc(slices.Clone(rules), func(r *ast.Rule) bool { return slices.Contains(some, r) })
}

// looksAt says whether one of the rules looks at the document of that name.
func (m *module) looksAt(name string, rules ...*ast.Rule) bool {
	found := false
	for _, r := range rules {
		look := func(t *ast.Term) bool {
			switch v := t.Value.(type) {
			case ast.Var:
				found = found || string(v) == name
			case ast.Ref:
				n := len(m.parsed.Package.Path)
				found = found || len(v) > n && v.HasPrefix(m.parsed.Package.Path) && word(v[n].Value) == name
			}
			return found
		}
		ast.WalkTerms(r.Body, look)
		for _, part := range append(r.Head.Ref()[1:], r.Head.Value) {
			if part != nil {
				ast.WalkTerms(part, look)
			}
		}
		if r.Else != nil && m.looksAt(name, r.Else) {
			return true
		}
	}
	return found
}

// declares says whether a body has a variable of its own of that name.
func declares(name string, rules []*ast.Rule) bool {
	found := false
	is := func(t *ast.Term) { found = found || t != nil && t.Value.Compare(ast.Var(name)) == 0 }
	for _, r := range rules {
		ast.WalkExprs(r.Body, func(e *ast.Expr) bool {
			switch terms := e.Terms.(type) {
			case *ast.SomeDecl:
				for _, t := range terms.Symbols {
					is(t)
					if c, ok := t.Value.(ast.Call); ok {
						for _, arg := range c[1 : len(c)-1] {
							is(arg)
						}
					}
				}
			case *ast.Every:
				is(terms.Key)
				is(terms.Value)
			case []*ast.Term:
				if e.IsAssignment() {
					is(e.Operand(0))
				}
			}
			return found
		})
	}
	return found
}

// rowRule is the row of a rule whose subjects and verdicts come as lists.
func rowRule(module *ast.Module, subjects, verdicts []*ast.Rule) *ast.Rule {
	loc := subjects[0].Location
	list := func(name string, value *ast.Term) (*ast.Term, *ast.Expr) {
		v := ast.VarTerm(name).SetLocation(loc)
		return v, ast.Assign.Expr(v, value).SetLocation(loc)
	}
	v, e := list(subjectsVar, subjectsOf(subjects))
	row, body := []*ast.Term{v}, ast.NewBody(e)
	for i, r := range verdicts {
		v, e := list(fmt.Sprintf("verdict %d", i+1), pairs(r))
		ofSubjects(e)
		row = append(row, v)
		body.Append(e)
	}
	return constant(module, loc, ast.ArrayTerm(row...), body)
}

// ofSubjects puts the list of subjects where the document was.
func ofSubjects(e *ast.Expr) {
	ast.WalkTerms(e, func(t *ast.Term) bool {
		if v, ok := t.Value.(ast.Var); ok && v == "subject" {
			t.Value = ast.Var(subjectsVar)
		}
		return false
	})
}

// subjectsOf gives the subjects as one object. Of several bodies it is made of
// a set of pairs: putting a key into an object for the second time costs as much
// as the object is large. Two values for one subject are told apart by OPA, as
// they were.
func subjectsOf(clauses []*ast.Rule) *ast.Term {
	first := clauses[0]
	if len(clauses) == 1 {
		return ast.ObjectComprehensionTerm(first.Head.Ref()[1].Copy(), first.Head.Value.Copy(), first.Body.Copy()).SetLocation(first.Location)
	}
	all := pairSet(first)
	for _, r := range clauses[1:] {
		all = ast.Or.Call(all, pairSet(r))
	}
	list, key, value := ast.VarTerm("the pairs"), ast.VarTerm("its key"), ast.VarTerm("its value")
	return ast.ObjectComprehensionTerm(key, value, ast.NewBody(
		ast.Assign.Expr(list, all), ast.Equality.Expr(ast.ArrayTerm(key, value), ast.RefTerm(list, ast.VarTerm(ast.WildcardPrefix+"pair"))))).SetLocation(first.Location)
}

// pairs is [[key, value] | body].
func pairs(r *ast.Rule) *ast.Term {
	pair := ast.ArrayTerm(r.Head.Ref()[1].Copy(), r.Head.Value.Copy()).SetLocation(r.Location)
	return ast.ArrayComprehensionTerm(pair, r.Body.Copy()).SetLocation(r.Location)
}

func pairSet(r *ast.Rule) *ast.Term {
	pair := ast.ArrayTerm(r.Head.Ref()[1].Copy(), r.Head.Value.Copy()).SetLocation(r.Location)
	return ast.SetComprehensionTerm(pair, r.Body.Copy()).SetLocation(r.Location)
}

// constant is the row := value if body.
func constant(module *ast.Module, loc *ast.Location, value *ast.Term, body ast.Body) *ast.Rule {
	head := ast.NewHead(ast.Var(rowName), nil, value.SetLocation(loc))
	head.Location, head.Assign = loc, true
	return &ast.Rule{Head: head, Body: body, Location: loc, Module: module}
}

// rowQuery is the compiled body of the row with x = its value: asked by
// itself, it need not be looked up in the tree of rules.
func rowQuery(compiled *ast.Module) (ast.Body, bool) {
	for _, r := range compiled.Rules {
		if r.Head.Name == rowName {
			body := slices.Clone(r.Body) // nothing changes what is in it
			body.Append(ast.Equality.Expr(ast.VarTerm(string(rowVar)), r.Head.Value))
			return body, true
		}
	}
	return nil, false
}

// callNatives sends calls to the twins in Go. It changes the operators of
// expressions that the parsed rule shares.
func callNatives(out *ast.Module) {
	names := map[string]string{} // of an import, to the helper
	for _, imp := range out.Imports {
		if ref, ok := imp.Path.Value.(ast.Ref); ok && len(ref) == 3 && hasPrefix(ref, "data", "lib") {
			names[imp.Name().String()] = word(ref[2].Value)
		}
	}
	sent := map[string]bool{}
	eachCall(out, func(terms []*ast.Term) {
		ref, ok := terms[0].Value.(ast.Ref)
		if !ok || len(ref) != 2 {
			return
		}
		helper, function := names[ref[0].Value.String()], word(ref[1].Value)
		if n, ok := natives[helper+"."+function]; ok && n.arity == len(terms)-1 {
			sent[ref[0].Value.String()] = true
			terms[0] = ast.RefTerm(ast.VarTerm(strings.TrimSuffix(nativeSpace, ".")).SetLocation(ref[0].Location),
				ast.InternedTerm(helper), ast.InternedTerm(function)).SetLocation(terms[0].Location)
		}
	})
	// An import that nothing needs now would be refused as unused.
	still := map[string]bool{}
	for _, r := range out.Rules {
		ast.WalkRefs(r, func(ref ast.Ref) bool { still[ref[0].Value.String()] = true; return false })
	}
	out.Imports = slices.DeleteFunc(slices.Clone(out.Imports), func(imp *ast.Import) bool {
		name := imp.Name().String()
		return sent[name] && !still[name]
	})
}

// nativeLibrary are the digests (SHA-256) of the library that the functions in
// Go were compared with; TestNativesAreTheLibrary keeps them. Under any other
// library the functions of that library are called.
var nativeLibrary = map[string]string{
	"lib/judge.rego": "cf373c64b6b97b66d927a1d7dcb63397684b4c79a424f6a635b712d71f410d73",
	"lib/table.rego": "851d82a7cd8b8c3c075ff59a76f2d20ef4c56c8717c37ce871b3135de3847d12",
}

// hasNatives says whether the library is the one that the functions in Go are
// twins of.
func hasNatives(fsys fs.FS) bool {
	for file, digest := range nativeLibrary {
		text, err := fs.ReadFile(fsys, file)
		if err != nil || digestOf(text) != digest {
			return false
		}
	}
	return true
}

func digestOf(text []byte) string {
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:])
}

// idle finds out which lists of facts a rule needs, one for each body of its
// subject: where all are empty it has no subjects and need not be asked. It is
// nil where that cannot be told.
func (m *module) idle() []string {
	subjects, verdicts := m.clauses("subject"), m.clauses("verdict")
	var groups []string
	for _, r := range subjects {
		group := ""
		eachGenerator(r.Body, func(over *ast.Term) {
			if ref, ok := over.Value.(ast.Ref); ok && len(ref) == 2 && hasPrefix(ref, "input") {
				group = word(ref[1].Value)
			}
		})
		if group == "" {
			return nil
		}
		groups = append(groups, group)
	}
	for _, r := range verdicts {
		ofSubjects := false
		eachGenerator(r.Body, func(over *ast.Term) {
			ofSubjects = ofSubjects || over.Value.Compare(ast.Var("subject")) == 0
		})
		if !ofSubjects {
			return nil
		}
	}
	return groups
}

// eachGenerator visits what the body goes through: xs of "some x in xs".
func eachGenerator(body ast.Body, visit func(*ast.Term)) {
	for _, e := range body {
		some, ok := e.Terms.(*ast.SomeDecl)
		if !ok || len(e.With) > 0 {
			continue
		}
		for _, t := range some.Symbols {
			if c, ok := t.Value.(ast.Call); ok {
				visit(c[len(c)-1])
			}
		}
	}
}

// hasNone says whether each of these lists of the input is empty.
func hasNone(input ast.Value, groups []string) bool {
	for _, g := range groups {
		list, ok := member(input, g).(*ast.Array)
		if !ok || list.Len() > 0 {
			return false
		}
	}
	return len(groups) > 0
}

func member(v ast.Value, name string) ast.Value {
	if o, ok := v.(ast.Object); ok {
		if t := o.Get(ast.InternedTerm(name)); t != nil {
			return t.Value
		}
	}
	return nil
}
