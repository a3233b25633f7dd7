package policy

import (
	"context"
	"fmt"
	"io/fs"
	"maps"
	"runtime"
	"slices"
	"strings"
	"sync"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/rego"
	"github.com/open-policy-agent/opa/v1/storage"
	"github.com/open-policy-agent/opa/v1/storage/inmem"

	"backpitch/engine/profile"
	"backpitch/engine/quantity"
)

// Prepared is the adopted rules of one profile, compiled. It never changes and
// may judge in many goroutines at once.
type Prepared struct {
	profile  *profile.Profile
	modules  map[string]*module // by rule id
	ids      []string           // sorted
	library  map[string]*ast.Module
	compiler *ast.Compiler
	store    storage.Store
	tables   tables
	compiled bool // from compiledRules: modules have no source and no places
}

// Prepare parses, type-checks and compiles the rules that the profile adopts,
// and no others. Its error is [Errors] or [*Error].
func Prepare(ctx context.Context, fsys fs.FS, p *profile.Profile) (*Prepared, error) {
	return prepareSome(ctx, fsys, p, p.Rules())
}

func prepareSome(ctx context.Context, fsys fs.FS, p *profile.Profile, ids []string) (*Prepared, error) {
	out := &Prepared{profile: p, modules: map[string]*module{}, ids: ids}
	if err := out.read(fsys); err != nil {
		return nil, err
	}
	library, err := readLibrary(fsys)
	if err != nil {
		return nil, err
	}
	out.library = library
	natively := hasNatives(fsys)
	modules := maps.Clone(library)
	for _, m := range out.modules {
		modules[m.File] = m.quick(natively)
	}
	out.compiler = newCompiler()
	if out.compiler.Compile(modules); out.compiler.Failed() {
		return nil, fromOPA(out.compiler.Errors, "", out.ruleOf).sorted()
	}
	return out, out.finish()
}

// newCompiler checks everything, types too.
func newCompiler() *ast.Compiler {
	return ast.NewCompiler().WithCapabilities(withNatives()).WithStrict(true).
		WithDefaultRegoVersion(ast.RegoV1).WithSchemas(factsTypes()).WithUseTypeCheckAnnotations(true)
}

// finish puts the profile beside the compiled rules and takes their queries out.
func (out *Prepared) finish() (err error) {
	data := out.profile.Data()
	if out.tables.profile, err = ast.InterfaceToValue(data); err != nil {
		return fmt.Errorf("the tables of %s: %w", out.profile.ID, err)
	}
	out.store = inmem.NewFromObjectWithOpts(map[string]any{"profile": data}, inmem.OptRoundTripOnWrite(false))
	for _, m := range out.modules {
		var ok bool
		if m.query, ok = rowQuery(out.compiler.Modules[m.File]); !ok {
			return &Error{Rule: m.ID, File: m.File, Message: "the rule cannot be asked"}
		}
	}
	return nil
}

// asWritten compiles the rules as they were written, to say what is wrong with one.
func (out *Prepared) asWritten() (*ast.Compiler, error) {
	modules := maps.Clone(out.library)
	for _, m := range out.modules {
		parsed, err := ast.ParseModuleWithOpts(m.File, string(m.source), parserOptions())
		if err != nil {
			return nil, err
		}
		modules[m.File] = parsed
	}
	compiler := newCompiler()
	if compiler.Compile(modules); compiler.Failed() {
		return nil, compiler.Errors
	}
	return compiler, nil
}

// read parses the adopted rules and names every problem in them.
func (out *Prepared) read(fsys fs.FS) error {
	adopted, problems, err := out.adopted(fsys)
	if err != nil {
		return err
	}
	for i, r := range readRules(fsys, adopted) {
		problems = append(problems, r.problems...)
		out.modules[adopted[i].id] = r.module
	}
	return problems.sorted()
}

// adopted finds the files of the adopted rules; the problems name those that do
// not exist.
func (out *Prepared) adopted(fsys fs.FS) (adopted []ruleFile, problems Errors, err error) {
	files, err := ruleFiles(fsys, out.profile.Chain)
	if err != nil {
		return nil, nil, err
	}
	byID := make(map[string]ruleFile, len(files))
	for _, f := range files {
		byID[f.id] = f
	}
	for _, id := range out.ids {
		f, ok := byID[id]
		if !ok {
			problems = append(problems, &Error{Rule: id, Message: fmt.Sprintf("the adopted rule %q does not exist", id),
				Hint: profile.DidYouMean(id, slices.Sorted(maps.Keys(byID)))})
			continue
		}
		adopted = append(adopted, f)
	}
	return adopted, problems, nil
}

type ruleRead struct {
	module   *module
	problems Errors
}

// readRules reads on every core: parsing is a third of the time it takes to
// prepare.
func readRules(fsys fs.FS, files []ruleFile) []ruleRead {
	out := make([]ruleRead, len(files))
	var wg sync.WaitGroup
	workers := runtime.GOMAXPROCS(0)
	for w := range workers {
		wg.Go(func() {
			for i := w; i < len(files); i += workers {
				out[i].module, out[i].problems = readRule(fsys, files[i])
			}
		})
	}
	wg.Wait()
	return out
}

func ruleRef(id string) string { return "data.rules." + strings.ReplaceAll(id, "/", ".") }

func (out *Prepared) ruleOf(file string) string {
	for id, m := range out.modules {
		if m != nil && m.File == file {
			return id
		}
	}
	return ""
}

// prepare prepares a query of the rules as they were written.
func (out *Prepared) prepare(ctx context.Context, c *ast.Compiler, query string) (rego.PreparedEvalQuery, error) {
	return rego.New(rego.Query(query), rego.Compiler(c), rego.Store(out.store), rego.StrictBuiltinErrors(true)).PrepareForEval(ctx)
}

// Profile returns the profile whose rules these are.
func (out *Prepared) Profile() *profile.Profile { return out.profile }

// Rules returns the adopted rules, sorted by id, with the levels that the
// profile gives them.
func (out *Prepared) Rules() []profile.Rule {
	rules := make([]profile.Rule, len(out.ids))
	for i, id := range out.ids {
		rules[i], _ = out.Rule(id)
	}
	return rules
}

// Rule returns one adopted rule.
func (out *Prepared) Rule(id string) (profile.Rule, bool) {
	m := out.modules[id]
	if m == nil {
		return profile.Rule{}, false
	}
	r := m.Rule
	if level := out.profile.Adopts[id].Level; level != "" {
		r.Level = level
	}
	return r, true
}

// FactKind returns the quantity kind of a fact of the rule's subjects, "" for
// words and truth values: how a message shows {fact:name}.
func (out *Prepared) FactKind(rule, path string) quantity.Kind {
	m := out.modules[rule]
	if m == nil {
		return ""
	}
	doc := factsSchema()
	if head, rest, dotted := strings.Cut(path, "."); dotted && (head == "building" || head == "project") {
		if f := doc.root.Properties[head].find(rest); f != nil {
			return f.Unit
		}
	}
	if fields := m.fields(); fields != nil {
		if f := fields.find(path); f != nil {
			return f.Unit
		}
		return ""
	}
	for _, group := range slices.Sorted(maps.Keys(doc.root.Properties)) {
		if f := doc.group(group).find(path); f != nil {
			return f.Unit
		}
	}
	return ""
}
