package policy

import (
	"context"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"runtime"
	"slices"
	"strings"
	"sync"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/storage"
	"github.com/open-policy-agent/opa/v1/storage/inmem"
	"github.com/open-policy-agent/opa/v1/topdown"

	"backpitch/engine/profile"
)

// Bench tries rules one at a time, on any facts and under any figures, and
// with changes to their text: what proofs are made of. It is safe for many
// goroutines.
type Bench struct {
	library map[string]*ast.Module
	sources map[string][]byte      // of helpers and of their tests, by file
	aids    map[string]*ast.Module // what tests share: lib/*_test.rego, by package
	units   map[string]*Unit       // by file
}

// Unit is one rule with its Rego tests, compiled together with the helpers.
type Unit struct {
	*module
	bench    *Bench
	tests    *ast.Module // nil for none
	aids     []*ast.Module
	once     sync.Once // compiles, when the unit is first tried
	broken   Errors
	compiler *ast.Compiler
	query    ast.Body

	seeding sync.Mutex
	seeds   []any // nil until they are asked for
}

// ready compiles the unit.
func (u *Unit) ready() error {
	u.once.Do(func() {
		if u.compiler == nil {
			u.broken = u.compile(u.parsed, lax)
		}
	})
	return u.broken.sorted()
}

// NewBench reads the helpers and every rule that the profiles can adopt, with
// the tests beside them. Rules that are broken are named in the error.
func NewBench(fsys fs.FS, profiles ...string) (*Bench, error) {
	library, err := readLibrary(fsys)
	if err != nil {
		return nil, err
	}
	b := &Bench{library: library, sources: map[string][]byte{}, aids: map[string]*ast.Module{}, units: map[string]*Unit{}}
	if err := b.readAids(fsys); err != nil {
		return nil, err
	}
	files, err := benchFiles(fsys, profiles)
	if err != nil {
		return nil, err
	}
	units, problems := make([]*Unit, len(files)), make([]Errors, len(files))
	each(len(files), func(i int) { units[i], problems[i] = b.read(fsys, files[i]) })
	for i, u := range units {
		if len(problems[i]) == 0 {
			b.units[files[i].file] = u
		}
	}
	return b, slices.Concat(problems...).sorted()
}

// readAids keeps the sources of the helpers and parses what stands beside them
// for tests.
func (b *Bench) readAids(fsys fs.FS) error {
	files, err := fs.Glob(fsys, "lib/*.rego")
	if err != nil {
		return fmt.Errorf("listing helpers: %w", err)
	}
	var problems Errors
	for _, file := range files {
		source, err := fs.ReadFile(fsys, file)
		if err != nil {
			return fmt.Errorf("reading a helper: %w", err)
		}
		b.sources[file] = source
		if isRule(file) {
			continue
		}
		parsed, err := parseTests(file, source)
		if err != nil {
			problems = append(problems, fromOPA(err, file, func(string) string { return "" })...)
		} else if parsed != nil {
			b.aids[parsed.Package.Path.String()] = parsed
		}
	}
	return problems.sorted()
}

func parseTests(file string, source []byte) (*ast.Module, error) {
	return ast.ParseModuleWithOpts(file, string(source), ast.ParserOptions{RegoVersion: ast.RegoV1})
}

// aidsOf returns what a test module imports from beside the helpers.
func (b *Bench) aidsOf(tests *ast.Module) []*ast.Module {
	var out []*ast.Module
	for _, imp := range tests.Imports {
		if ref, ok := imp.Path.Value.(ast.Ref); ok && len(ref) > 2 {
			if m := b.aids[ref[:3].String()]; m != nil && m != tests {
				out = append(out, m)
			}
		}
	}
	return out
}

// benchFiles lists the shared rules once and the local rules of each profile:
// two profiles that never meet may use one name.
func benchFiles(fsys fs.FS, profiles []string) ([]ruleFile, error) {
	files, err := globRules(fsys, "rules", "")
	if err != nil {
		return nil, err
	}
	for _, id := range profiles {
		local, err := globRules(fsys, path.Join("profiles", id, "rules"), id)
		if err != nil {
			return nil, err
		}
		files = append(files, local...)
	}
	return files, nil
}

// Units returns the rules, sorted by file.
func (b *Bench) Units() []*Unit {
	out := make([]*Unit, 0, len(b.units))
	for _, file := range slices.Sorted(maps.Keys(b.units)) {
		out = append(out, b.units[file])
	}
	return out
}

// Adopted returns the rules that a profile adopts, sorted by id.
func (b *Bench) Adopted(p *profile.Profile) []*Unit {
	var out []*Unit
	for _, id := range p.Rules() {
		if u := b.units["rules/"+id+".rego"]; u != nil {
			out = append(out, u)
		}
		for _, owner := range p.Chain {
			if u := b.units[path.Join("profiles", owner, "rules", id+".rego")]; u != nil {
				out = append(out, u)
			}
		}
	}
	return out
}

func (b *Bench) read(fsys fs.FS, f ruleFile) (*Unit, Errors) {
	m, problems := readRule(fsys, f)
	if len(problems) > 0 {
		return nil, problems
	}
	u := &Unit{module: m, bench: b}
	file := strings.TrimSuffix(f.file, ".rego") + "_test.rego"
	if source, err := fs.ReadFile(fsys, file); err == nil {
		tests, err := parseTests(file, source)
		if err != nil {
			return nil, fromOPA(err, file, func(string) string { return f.id })
		}
		if tests != nil {
			u.tests, u.aids = tests, b.aidsOf(tests)
		}
	}
	return u, nil
}

// care says how much the compiler looks at: types take a third of its time.
type care bool

const (
	lax       care = false
	withTypes care = true // facts checked against their schema
)

// compile compiles the rule, in the given form, with the helpers and its tests.
func (u *Unit) compile(parsed *ast.Module, how care) Errors {
	modules := maps.Clone(u.bench.library)
	modules[u.File] = parsed
	if u.tests != nil {
		modules["(tests)"] = u.tests
	}
	for _, m := range u.aids {
		modules[m.Package.Path.String()] = m
	}
	ruleOf := func(string) string { return u.ID }
	u.compiler = ast.NewCompiler().WithDefaultRegoVersion(ast.RegoV1)
	if how == withTypes {
		u.compiler = u.compiler.WithSchemas(factsTypes()).WithUseTypeCheckAnnotations(true)
	} else {
		u.compiler = u.compiler.WithSkipStages(ast.StageCheckTypes)
	}
	if u.compiler.Compile(modules); u.compiler.Failed() {
		return fromOPA(u.compiler.Errors, u.File, ruleOf)
	}
	text := fmt.Sprintf(`x = [{k: v | v := %[1]s.subject[k]}, {k: v | v := %[1]s.verdict[k]}]`, ruleRef(u.ID))
	body, err := u.compiler.QueryCompiler().Compile(ast.MustParseBodyWithOpts(text, ast.ParserOptions{RegoVersion: ast.RegoV1}))
	if err != nil {
		return fromOPA(err, u.File, ruleOf)
	}
	u.query = body
	return nil
}

// Trial is a rule under the figures of a profile.
type Trial struct {
	unit  *Unit
	p     *profile.Profile
	store storage.Store
}

// Under makes a trial; it is cheap.
func (u *Unit) Under(p *profile.Profile) *Trial {
	return &Trial{u, p, inmem.NewFromObjectWithOpts(map[string]any{"profile": p.Data()}, inmem.OptRoundTripOnWrite(false))}
}

// Judge judges the facts, given as a tree of map[string]any, []any, string,
// bool and int64, as Prepared.Judge does. A rule that breaks is an error.
func (t *Trial) Judge(ctx context.Context, facts any) ([]Verdict, error) {
	input, err := ast.InterfaceToValue(facts)
	if err != nil {
		return nil, fmt.Errorf("facts for %s: %w", t.unit.ID, err)
	}
	if err := t.unit.ready(); err != nil {
		return nil, err
	}
	result, err := t.unit.run(ctx, t.store, ast.NewTerm(input), t.unit.query, nil)
	if err != nil {
		return nil, fromEval(err, t.unit.ID, t.unit.File)
	}
	answers, ok := result.(*ast.Array)
	if !ok || answers.Len() != 2 {
		return nil, &Error{Rule: t.unit.ID, File: t.unit.File, Message: "the rule gave no result"}
	}
	r := newReading(t.p, input)
	r.rule(t.unit.module, answers)
	if err := r.problems.sorted(); err != nil {
		return nil, err
	}
	return r.list, nil
}

// run evaluates a compiled query and returns the value of its x.
func (u *Unit) run(ctx context.Context, store storage.Store, input *ast.Term, query ast.Body, tracer topdown.QueryTracer) (ast.Value, error) {
	txn, err := store.NewTransaction(ctx)
	if err != nil {
		return nil, err
	}
	defer store.Abort(ctx, txn)
	q := topdown.NewQuery(query).WithCompiler(u.compiler).WithStore(store).WithTransaction(txn).
		WithInput(input).WithStrictBuiltinErrors(true).WithQueryTracer(tracer)
	var x ast.Value
	err = q.Iter(ctx, func(r topdown.QueryResult) error {
		for v, t := range r {
			if v == "x" {
				x = t.Value
			}
		}
		return nil
	})
	return x, err
}

// each runs f for 0 … n-1 on every core.
func each(n int, f func(i int)) {
	var wg sync.WaitGroup
	next := make(chan int)
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for i := range next {
				f(i)
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	wg.Wait()
}
