package policy

import (
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"

	"backpitch/engine/profile"
)

// module is one rule: its source, what its METADATA says, and how it reads
// tables.
type module struct {
	profile.Rule
	parsed *ast.Module
	source []byte
	group  string // the group of facts its subjects come from, "" where it cannot be told
	reads  []read
	looks  []string // facts it looks at that can be absent, sorted
	query  ast.Body // x = its row
	groups []string // see idle
}

// fields returns the schema of its subjects, nil where it cannot be told.
func (m *module) fields() *property {
	if m.group == "" {
		return nil
	}
	return factsSchema().group(m.group)
}

func parserOptions() ast.ParserOptions {
	return ast.ParserOptions{ProcessAnnotation: true, RegoVersion: ast.RegoV1, Capabilities: capabilities()}
}

// ruleFile is where a rule of that id stands.
type ruleFile struct {
	id, file, local string
}

func isRule(file string) bool {
	return strings.HasSuffix(file, ".rego") && !strings.HasSuffix(file, "_test.rego")
}

// ruleFiles finds every rule: the shared ones and those of the profiles named.
func ruleFiles(fsys fs.FS, chain []string) ([]ruleFile, error) {
	out, err := globRules(fsys, "rules", "")
	if err != nil {
		return nil, err
	}
	for _, id := range chain {
		local, err := globRules(fsys, path.Join("profiles", id, "rules"), id)
		if err != nil {
			return nil, err
		}
		out = append(out, local...)
	}
	slices.SortStableFunc(out, func(a, b ruleFile) int { return strings.Compare(a.id, b.id) })
	var problems Errors
	for i := 1; i < len(out); i++ {
		if out[i].id == out[i-1].id {
			problems = append(problems, &Error{Rule: out[i].id, File: out[i].file,
				Message: fmt.Sprintf("the rule %q stands in %s too", out[i].id, out[i-1].file), Hint: "give one of them another name"})
		}
	}
	return out, problems.sorted()
}

func globRules(fsys fs.FS, root, local string) ([]ruleFile, error) {
	files, err := fs.Glob(fsys, root+"/*/*.rego")
	if err != nil {
		return nil, fmt.Errorf("listing rules: %w", err)
	}
	var out []ruleFile
	for _, f := range files {
		if isRule(f) {
			out = append(out, ruleFile{strings.TrimSuffix(strings.TrimPrefix(f, root+"/"), ".rego"), f, local})
		}
	}
	return out, nil
}

// readRule parses one rule and checks everything that can be told without
// compiling it.
func readRule(fsys fs.FS, f ruleFile) (*module, Errors) {
	ruleOf := func(string) string { return f.id }
	source, err := fs.ReadFile(fsys, f.file)
	if err != nil {
		return nil, Errors{{Rule: f.id, File: f.file, Message: err.Error()}}
	}
	parsed, err := ast.ParseModuleWithOpts(f.file, string(source), parserOptions())
	if err != nil {
		return nil, fromOPA(err, f.file, ruleOf)
	}
	if parsed == nil {
		return nil, Errors{{Rule: f.id, File: f.file, Message: "the file is empty"}}
	}
	m := &module{Rule: profile.Rule{ID: f.id, File: f.file, Local: f.local}, parsed: parsed, source: source}
	c := checker{module: m}
	c.structure()
	m.group = c.subjectGroup()
	c.metadata()
	c.references()
	c.negations()
	c.presence()
	c.optionalFacts()
	return m, c.problems
}

// readLibrary parses the helpers.
func readLibrary(fsys fs.FS) (map[string]*ast.Module, error) {
	files, err := helperFiles(fsys)
	if err != nil {
		return nil, err
	}
	out := map[string]*ast.Module{}
	var problems Errors
	for _, f := range files {
		source, err := fs.ReadFile(fsys, f)
		if err != nil {
			return nil, fmt.Errorf("reading a helper: %w", err)
		}
		parsed, err := ast.ParseModuleWithOpts(f, string(source), parserOptions())
		if err != nil {
			problems = append(problems, fromOPA(err, f, func(string) string { return "" })...)
			continue
		}
		// A helper that claims another package could answer for a rule.
		if want := "data.lib." + strings.TrimSuffix(path.Base(f), ".rego"); parsed == nil || parsed.Package.Path.String() != want {
			problems = append(problems, &Error{File: f, Message: fmt.Sprintf("the package of this helper is not %s", strings.TrimPrefix(want, "data.")),
				Hint: "path and package are one name"})
			continue
		}
		out[f] = parsed
	}
	return out, problems.sorted()
}

// Catalogue returns every rule that the profiles named can adopt: the shared
// ones and their own, sorted by id. Name a profile's Chain. Every rule's
// METADATA is checked; the rules that are sound are returned beside the error.
func Catalogue(fsys fs.FS, chain ...string) ([]profile.Rule, error) {
	files, err := ruleFiles(fsys, chain)
	if err != nil {
		return nil, err
	}
	var problems Errors
	var out []profile.Rule
	for _, f := range files {
		m, broken := readRule(fsys, f)
		problems = append(problems, broken...)
		if len(broken) == 0 {
			out = append(out, m.Rule)
		}
	}
	return out, problems.sorted()
}

// checker gathers what is wrong with one rule.
type checker struct {
	*module
	problems Errors
}

func (c *checker) refuse(loc *ast.Location, hint, format string, args ...any) {
	e := at(loc, c.File)
	e.Rule, e.Message, e.Hint = c.ID, fmt.Sprintf(format, args...), hint
	c.problems = append(c.problems, &e)
}

// structure checks the package name and the two rules everything rests on.
func (c *checker) structure() {
	want := "data.rules." + strings.ReplaceAll(c.ID, "/", ".")
	if got := c.parsed.Package.Path.String(); got != want {
		c.refuse(c.parsed.Package.Location, "id, path and package are one name",
			"the package is %s; the rule %q has package %s", strings.TrimPrefix(got, "data."), c.ID, strings.TrimPrefix(want, "data."))
	}
	for _, imp := range c.parsed.Imports {
		ref, ok := imp.Path.Value.(ast.Ref)
		if !ok || !hasPrefix(ref, "data", "lib") && !hasPrefix(ref, "rego", "v1") {
			c.refuse(imp.Location, "a rule imports helpers of data.lib only", "%s cannot be imported", imp.Path)
		}
	}
	for name, example := range map[string]string{
		"subject": "subject[p.id] := p if …", "verdict": "verdict[id] := judge.at_least(…) if …"} {
		found := false
		for _, r := range c.parsed.Rules {
			if r.Head.Name.String() != name && (len(r.Head.Reference) == 0 || word(r.Head.Reference[0].Value) != name) {
				continue
			}
			found = true
			if ref := r.Head.Ref(); len(ref) != 2 || len(r.Head.Args) > 0 || r.Default || r.Head.Value == nil {
				c.refuse(r.Location, "write "+example, "%s is an object with one entry for each subject", name)
			}
		}
		if !found {
			c.refuse(c.parsed.Package.Location, "write "+example, "the rule has no %s", name)
		}
	}
	slices.SortStableFunc(c.problems, func(a, b *Error) int { return strings.Compare(a.Message, b.Message) })
}

// named returns the rules of that name.
func (c *checker) named(name string) []*ast.Rule {
	var out []*ast.Rule
	for _, r := range c.parsed.Rules {
		if ref := r.Head.Ref(); len(ref) > 0 && word(ref[0].Value) == name {
			out = append(out, r)
		}
	}
	return out
}

// subjectGroup finds the one group of facts that subject takes its entries
// from: some p in input.<group>, or input.<group> itself.
func (c *checker) subjectGroup() string {
	groups := map[string]bool{}
	root := factsSchema().root
	for _, r := range c.named("subject") {
		ast.WalkRefs(r, func(ref ast.Ref) bool {
			if hasPrefix(ref, "input") && len(ref) > 1 {
				// Lists before the two single things: building is also looked at
				// by rules about something else.
				if name := word(ref[1].Value); root.Properties[name] != nil {
					groups[name] = true
				}
			}
			return false
		})
	}
	if len(groups) > 1 {
		delete(groups, "building")
		delete(groups, "project")
	}
	if len(groups) != 1 {
		return ""
	}
	for name := range groups {
		return name
	}
	return ""
}

// references refuses a look at another rule, at a table that METADATA does not
// declare, or at data outside profile and lib.
func (c *checker) references() {
	eachCall(c.parsed, func(terms []*ast.Term) {
		if ref, ok := terms[0].Value.(ast.Ref); ok && strings.HasPrefix(ref.String(), nativeSpace) {
			c.refuse(ref[0].Location, "call the function of data.lib", "undefined function %s", ref)
		}
	})
	handled := c.defaults()
	ast.WalkRefs(c.parsed, func(ref ast.Ref) bool {
		if !hasPrefix(ref, "data") || len(ref) < 2 || slices.Contains(handled, ref[0]) {
			return false
		}
		switch {
		case hasPrefix(ref, "data", "lib"), ref.HasPrefix(c.parsed.Package.Path):
		case hasPrefix(ref, "data", "profile"):
			c.table(ref)
		case hasPrefix(ref, "data", "rules"):
			c.refuse(ref[0].Location, "another rule may not be adopted; share a helper in policies/lib", "a rule cannot read another rule: %s", ref)
		default:
			c.refuse(ref[0].Location, "rules read data.profile and data.lib", "%s is not there", ref)
		}
		return false
	})
	c.steps()
}

// defaults notes tables read as object.get(data.profile, ["a", "b"], …) or
// object.get(data.profile.a, "b", …); it returns the heads of those references.
func (c *checker) defaults() []*ast.Term {
	var handled []*ast.Term
	eachCall(c.parsed, func(terms []*ast.Term) {
		if len(terms) < 4 || terms[0].Value.String() != ast.ObjectGet.Name {
			return
		}
		ref, ok := terms[1].Value.(ast.Ref)
		if !ok || !hasPrefix(ref, "data", "profile") {
			return
		}
		path := []*ast.Term{terms[2]}
		if a, ok := terms[2].Value.(*ast.Array); ok {
			path = nil
			a.Foreach(func(t *ast.Term) { path = append(path, t) })
		}
		if _, constant := path[0].Value.(ast.String); constant {
			handled = append(handled, ref[0])
			c.table(append(slices.Clone(ref), path...))
		}
	})
	return handled
}

// eachCall visits every call, operator first.
func eachCall(m *ast.Module, visit func(terms []*ast.Term)) {
	ast.WalkExprs(m, func(e *ast.Expr) bool {
		if terms, ok := e.Terms.([]*ast.Term); ok && len(terms) > 0 {
			visit(terms)
		}
		return false
	})
	ast.WalkTerms(m, func(t *ast.Term) bool {
		if call, ok := t.Value.(ast.Call); ok {
			visit(call)
		}
		return false
	})
}

func hasPrefix(ref ast.Ref, names ...string) bool {
	if len(ref) < len(names) {
		return false
	}
	for i, n := range names {
		switch v := ref[i].Value.(type) {
		case ast.Var:
			if i != 0 || string(v) != n {
				return false
			}
		case ast.String:
			if i == 0 || string(v) != n {
				return false
			}
		default:
			return false
		}
	}
	return true
}
