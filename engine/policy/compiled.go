package policy

import (
	"bytes"
	"context"
	"crypto/sha256"
	_ "embed"
	"fmt"
	"io/fs"
	"maps"
	"slices"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/version"

	"backpitch/engine/finding"
	"backpitch/engine/profile"
	"backpitch/engine/quantity"
)

// compiledRules are all rules and helpers of the project as OPA's compiler left
// them, with what their METADATA says. Reading and compiling is most of the time
// of a single review, and gives the same each time. Each stands beside the digest
// of its source: what was changed since, or comes from elsewhere, is read, checked
// and compiled as ever. A test holds that this is what the sources give.
//
//go:embed compiled.bin
var compiledRules string

// compiledFormat counts the changes of the layout.
const compiledFormat = "compiled rules 3"

// origin is what compiled rules depend on beside their sources.
func origin() string {
	return fmt.Sprintf("%s, opa %s, facts %x", compiledFormat, version.Version, sha256.Sum256(factsText()))
}

// Compiled writes the rules that the profiles named can adopt, and the helpers,
// as [Guarded] takes them. Everything is checked.
func Compiled(fsys fs.FS, profiles ...string) ([]byte, error) {
	files, err := ruleFiles(fsys, profiles)
	if err != nil {
		return nil, err
	}
	parsed, err := readLibrary(fsys)
	if err != nil {
		return nil, err
	}
	helpers := slices.Sorted(maps.Keys(parsed))
	var problems Errors
	rules := make([]*module, len(files))
	natively := hasNatives(fsys)
	for i, r := range readRules(fsys, files) {
		problems = append(problems, r.problems...)
		if rules[i] = r.module; r.module != nil {
			parsed[files[i].file] = r.module.quick(natively)
		}
	}
	if err := problems.sorted(); err != nil {
		return nil, err
	}
	c := newCompiler()
	if c.Compile(parsed); c.Failed() {
		return nil, fromOPA(c.Errors, "", func(string) string { return "" }).sorted()
	}
	e := newEncoder()
	body := putNumber(nil, len(helpers))
	for _, file := range helpers {
		source, err := fs.ReadFile(fsys, file)
		if err != nil {
			return nil, fmt.Errorf("reading a helper: %w", err)
		}
		body = e.entry(body, file, source, e.compiled(nil, c, file))
	}
	body = putNumber(body, len(rules))
	for _, m := range rules {
		body = e.entry(body, m.File, m.source, e.compiled(e.about(nil, m), c, m.File))
	}
	out := putText(nil, origin())
	out = append(putNumber(out, len(e.words)), e.wordList...)
	out = append(putNumber(out, e.termCount), e.termList...)
	return append(out, body...), nil
}

// entry writes a file so that a reader can pass over it.
func (e *encoder) entry(b []byte, file string, source, content []byte) []byte {
	digest := sha256.Sum256(source)
	b = append(putText(b, file), digest[:]...)
	return append(putNumber(b, len(content)), content...)
}

func (e *encoder) about(b []byte, m *module) []byte {
	b = e.list(b, m.words())
	for _, words := range [][]string{m.Needs, m.Tables, m.Optional, m.looks, m.groups} {
		b = e.list(b, words)
	}
	if b = append(b, 0); m.NoBoundary {
		b[len(b)-1] = 1
	}
	b = putNumber(b, len(m.reads))
	for _, r := range m.reads {
		b = putNumber(e.word(b, r.table), len(r.keys))
		for _, k := range r.keys {
			b = e.list(b, []string{k.word, k.fact, k.how})
		}
	}
	return b
}

// compiled writes a module, and whether the compiler found comprehensions in it
// that are worth an index: looking for them takes a third of what is left to do,
// and hardly any module has one.
func (e *encoder) compiled(b []byte, c *ast.Compiler, file string) []byte {
	found := byte(0)
	ast.WalkTerms(c.Modules[file], func(t *ast.Term) bool {
		if c.ComprehensionIndex(t) != nil {
			found = 1
		}
		return false
	})
	return e.module(append(b, found), c.Modules[file])
}

// words are the plain texts of a rule; setWords takes them back.
func (m *module) words() []string {
	return []string{m.ID, m.Title, m.Description, string(m.Level), m.Subject, string(m.Quantity), m.Message, m.Remedy,
		m.Rationale, m.Status, m.Local, m.group}
}

func (m *module) setWords(w []string) {
	m.ID, m.Title, m.Description, m.Level, m.Subject, m.Quantity = w[0], w[1], w[2], finding.Level(w[3]), w[4], quantity.Kind(w[5])
	m.Message, m.Remedy, m.Rationale, m.Status, m.Local, m.group = w[6], w[7], w[8], w[9], w[10], w[11]
}

func (d *decoder) about(file string) *module {
	m := &module{}
	m.File = file
	m.setWords(d.list())
	m.Needs, m.Tables, m.Optional, m.looks, m.groups = d.list(), d.list(), d.list(), d.list(), d.list()
	m.NoBoundary = d.byte() == 1
	if n := d.number(); n > 0 {
		m.reads = make([]read, n)
	}
	for i := range m.reads {
		m.reads[i].table = d.word()
		m.reads[i].keys = make([]keySource, d.number())
		for j := range m.reads[i].keys {
			k := d.list()
			m.reads[i].keys[j] = keySource{k[0], k[1], k[2]}
		}
	}
	return m
}

// stored is a file of compiledRules that is not read yet.
type stored struct {
	digest string
	at     int
}

// directory lists what is stored, by file. It reads past the shared tables.
func (d *decoder) directory() map[string]stored {
	n := d.number()
	out := make(map[string]stored, n)
	for range n {
		file := d.slice(d.number())
		s := stored{digest: d.slice(sha256.Size)}
		size := d.number()
		s.at = d.at
		d.at += size
		out[file] = s
	}
	return out
}

// is reports whether a file is what was compiled.
func (s stored) is(fsys fs.FS, file string) bool {
	source, err := fs.ReadFile(fsys, file)
	if err != nil {
		return false
	}
	digest := sha256.Sum256(source)
	return bytes.Equal(digest[:], []byte(s.digest))
}

// prepareCompiled makes of compiledRules what [Prepare] would make of the
// sources. It returns nil where one of them is not what was compiled: then
// Prepare has to look.
func prepareCompiled(ctx context.Context, fsys fs.FS, p *profile.Profile) (*Prepared, error) {
	d := &decoder{text: compiledRules}
	if d.slice(d.number()) != origin() {
		return nil, nil
	}
	d.tables()
	helpers := d.directory()
	rules := d.directory()
	files, err := helperFiles(fsys)
	if err != nil || len(files) != len(helpers) {
		return nil, err
	}
	modules := linking{all: map[string]*ast.Module{}, plain: map[string]*ast.Module{}, stubs: map[string]*ast.Module{}}
	for _, f := range files {
		s, known := helpers[f]
		if !known || !s.is(fsys, f) {
			return nil, nil
		}
		d.at = s.at
		modules.add(f, d)
	}
	out := &Prepared{profile: p, modules: map[string]*module{}, ids: p.Rules(), compiled: true}
	adopted, problems, err := out.adopted(fsys)
	if err != nil || len(problems) > 0 {
		return nil, err // Prepare names the problems
	}
	for _, f := range adopted {
		s, known := rules[f.file]
		if !known || !s.is(fsys, f.file) {
			return nil, nil
		}
		d.at = s.at
		m := d.about(f.file)
		if m.ID != f.id || m.Local != f.local {
			return nil, nil
		}
		out.modules[f.id] = m
		modules.add(f.file, d)
	}
	return out, out.link(modules)
}

// left are the stages that compiled rules still need: what they leave is in the
// compiler, not in the rules.
var left = []ast.StageID{ast.StageInitLocalVarGen, ast.StageSetModuleTree, ast.StageSetRuleTree,
	ast.StageBuildRuleIndices, ast.StageBuildComprehensionIndices}

// linking is compiled modules by file, and empty ones for what needs none of
// them: the compiler copies what it gets.
type linking struct {
	all   map[string]*ast.Module
	stubs map[string]*ast.Module // of all
	plain map[string]*ast.Module // of those without comprehensions worth an index
}

func (l linking) add(file string, d *decoder) {
	indexed := d.byte() == 1
	m := d.module()
	l.all[file], l.stubs[file] = m, &ast.Module{Package: m.Package}
	if !indexed {
		l.plain[file] = l.stubs[file]
	}
}

// exchange is a stage that puts modules into the compiler.
func exchange(modules map[string]*ast.Module) ast.CompilerStageDefinition {
	return ast.CompilerStageDefinition{Name: "Exchange", MetricName: "exchange", Stage: func(c *ast.Compiler) *ast.Error {
		maps.Copy(c.Modules, modules)
		return nil
	}}
}

// link puts compiled modules into a compiler.
func (out *Prepared) link(modules linking) error {
	skipped := slices.DeleteFunc(ast.AllStages(), func(s ast.StageID) bool { return slices.Contains(left, s) })
	out.compiler = ast.NewCompiler().WithCapabilities(withNatives()).
		WithDefaultRegoVersion(ast.RegoV1).WithSkipStages(skipped...).
		WithStageAfterID(ast.StageInitLocalVarGen, exchange(modules.all)).
		WithStageAfterID(ast.StageBuildRuleIndices, exchange(modules.plain)).
		WithStageAfterID(ast.StageBuildComprehensionIndices, exchange(modules.all))
	if out.compiler.Compile(modules.stubs); out.compiler.Failed() {
		return fromOPA(out.compiler.Errors, "", out.ruleOf).sorted()
	}
	return out.finish()
}

func helperFiles(fsys fs.FS) ([]string, error) {
	files, err := fs.Glob(fsys, "lib/*.rego")
	if err != nil {
		return nil, fmt.Errorf("listing helpers: %w", err)
	}
	return slices.DeleteFunc(files, func(f string) bool { return !isRule(f) }), nil
}
