package policy

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"regexp"
	"slices"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/open-policy-agent/opa/v1/ast"

	"backpitch/engine/facts"
	"backpitch/engine/profile"
	"backpitch/policies"
)

var update = flag.Bool("update", false, "write compiled.bin anew")

// The rules that the program carries compiled are what the sources give now.
func TestCompiledRulesAreUpToDate(t *testing.T) {
	fsys := os.DirFS("../../policies")
	want, err := Compiled(fsys, allProfiles(t)...)
	if err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile("compiled.bin", want, 0o644); err != nil {
			t.Fatal(err)
		}
		compiledRules = string(want) // for the tests that follow
	}
	if !bytes.Equal(want, []byte(compiledRules)) {
		t.Error("compiled.bin is not what the rules give: go test ./engine/policy -run UpToDate -update")
	}
}

func allProfiles(t testing.TB) []string {
	t.Helper()
	list, err := profile.List(os.DirFS("../../policies"))
	if err != nil {
		t.Fatal(err)
	}
	ids := make([]string, len(list))
	for i, s := range list {
		ids[i] = s.ID
	}
	return ids
}

// For every profile the compiled rules are those that reading and compiling its
// sources gives, up to the numbers of local variables, and say the same of
// themselves.
func TestCompiledRulesAreThoseOfTheSources(t *testing.T) {
	fsys := policies.FS()
	for _, id := range allProfiles(t) {
		p, err := profile.Load(fsys, id)
		if err != nil {
			t.Fatal(err)
		}
		want, err := Prepare(t.Context(), fsys, p)
		if err != nil {
			t.Fatal(err)
		}
		got, err := prepareCompiled(t.Context(), fsys, p)
		if err != nil || got == nil {
			t.Fatalf("%s: the compiled rules are not taken: %v", id, err)
		}
		if diff := cmp.Diff(rendered(want.compiler), rendered(got.compiler)); diff != "" {
			t.Errorf("%s: compiled differently (-sources +compiled):\n%s", id, diff)
		}
		for rule, m := range want.modules {
			if diff := cmp.Diff(said(m), said(got.modules[rule])); diff != "" {
				t.Errorf("%s: %s (-sources +compiled):\n%s", id, rule, diff)
			}
		}
		if len(got.modules) != len(want.modules) {
			t.Errorf("%s: %d rules, not %d", id, len(got.modules), len(want.modules))
		}
	}
}

// rendered is every compiled rule as text, with its local variables numbered
// anew, and whether it has an index.
func rendered(c *ast.Compiler) map[string][]string {
	out := map[string][]string{}
	for file, m := range c.Modules {
		for i := range m.Rules {
			r := m.Rules[i].Copy()
			r.Annotations = nil // nothing that is evaluated
			seen := map[string]string{}
			text := localVariable.ReplaceAllStringFunc(r.String(), func(name string) string {
				if seen[name] == "" {
					seen[name] = fmt.Sprintf("local%d", len(seen))
				}
				return seen[name]
			})
			comprehensions := 0
			ast.WalkTerms(m.Rules[i], func(t *ast.Term) bool {
				if c.ComprehensionIndex(t) != nil {
					comprehensions++
				}
				return false
			})
			out[file] = append(out[file], fmt.Sprintf("%v %s: %s; %d comprehensions and rules indexed: %t", r.Default, r.Ref().GroundPrefix(), text,
				comprehensions, c.RuleIndex(r.Ref().GroundPrefix()) != nil))
		}
	}
	return out
}

var localVariable = regexp.MustCompile(`__local\d+(_\d+)?__`)

func said(m *module) string {
	return fmt.Sprintf("%#v %q %+v %q", m.Rule, m.group, m.reads, m.looks)
}

// A rule or a helper that differs by a byte from what was compiled, and one that
// was added, are read, checked and compiled.
func TestChangedSourcesAreNotTakenCompiled(t *testing.T) {
	p, err := profile.Load(policies.FS(), "ipc-2021")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range []string{"rules/drain/too_flat.rego", "lib/judge.rego", "lib/another.rego", "profiles/ipc-2021/rules/drain/too_flat.rego"} {
		fsys := fstest.MapFS{}
		err := fs.WalkDir(policies.FS(), ".", func(name string, d fs.DirEntry, err error) error {
			if err == nil && !d.IsDir() {
				var data []byte
				if data, err = fs.ReadFile(policies.FS(), name); err == nil {
					fsys[name] = &fstest.MapFile{Data: data}
				}
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		if got, err := prepareCompiled(t.Context(), fsys, p); got == nil || err != nil {
			t.Fatalf("%s: nothing is changed yet, and the compiled rules are not taken: %v", file, err)
		}
		if fsys[file] == nil {
			fsys[file] = &fstest.MapFile{}
		}
		fsys[file].Data = append(slices.Clone(fsys[file].Data), '\n')
		if got, _ := prepareCompiled(t.Context(), fsys, p); got != nil {
			t.Errorf("%s is changed, and what was compiled before is taken", file)
		}
	}
}

// An error of a rule that came compiled has its place: the sources are asked.
func TestErrorsOfCompiledRulesHavePlaces(t *testing.T) {
	fsys := policies.FS()
	p, err := profile.Load(fsys, "ipc-2021")
	if err != nil {
		t.Fatal(err)
	}
	compiled, err := prepareCompiled(t.Context(), fsys, p)
	if err != nil || compiled == nil {
		t.Fatal(compiled, err)
	}
	sources, err := Prepare(t.Context(), fsys, p)
	if err != nil {
		t.Fatal(err)
	}
	// Two drains of one id with two slopes: two answers for one subject.
	steep, flat := int64(100000), int64(1)
	f := &facts.Facts{Drains: []facts.Drain{{ID: "d", Slope: &steep}, {ID: "d", Slope: &flat}}}
	_, want := (&watched{Prepared: sources, sources: fsys}).Judge(t.Context(), f)
	_, got := (&watched{Prepared: compiled, sources: fsys}).Judge(t.Context(), f)
	if want == nil || got == nil || got.Error() != want.Error() {
		t.Errorf("the error of compiled rules is\n%v\nnot\n%v", got, want)
	}
}

func BenchmarkPrepareCompiled(b *testing.B) {
	fsys := policies.FS()
	p, err := profile.Load(fsys, "ipc-2021")
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if prepared, err := prepareCompiled(context.Background(), fsys, p); err != nil || prepared == nil {
			b.Fatal(prepared, err)
		}
	}
}
