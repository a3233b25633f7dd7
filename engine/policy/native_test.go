package policy

import (
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/rego"
	"github.com/open-policy-agent/opa/v1/topdown"
)

// asked is one library function in Rego, asked with any arguments.
type asked struct {
	name  string
	query rego.PreparedEvalQuery
}

func libraryFunctions(t testing.TB) []asked {
	t.Helper()
	library, err := readLibrary(os.DirFS("../../policies"))
	if err != nil {
		t.Fatal(err)
	}
	compiler := ast.NewCompiler().WithDefaultRegoVersion(ast.RegoV1)
	if compiler.Compile(library); compiler.Failed() {
		t.Fatal(compiler.Errors)
	}
	var out []asked
	for name, n := range natives {
		var args []string
		for i := range n.arity {
			args = append(args, fmt.Sprintf("input[%d]", i))
		}
		q, err := rego.New(rego.Query(fmt.Sprintf("data.lib.%s(%s)", name, strings.Join(args, ", "))), rego.Compiler(compiler),
			rego.StrictBuiltinErrors(true)).PrepareForEval(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, asked{name, q})
	}
	slices.SortFunc(out, func(a, b asked) int { return strings.Compare(a.name, b.name) })
	return out
}

// sameAsRego compares a native with its definition; it returns whether Rego
// gave an answer.
func sameAsRego(t *testing.T, f asked, args []*ast.Term) bool {
	t.Helper()
	want, wantErr := eval(t.Context(), f.query, ast.NewArray(args...))
	got, gotErr := natives[f.name].answer(call{topdown.BuiltinContext{Context: t.Context()}, args})
	var gotValue ast.Value
	if got != nil {
		gotValue = got.Value
	}
	switch {
	case (wantErr == nil) != (gotErr == nil):
		t.Errorf("%s(%v): error %v, in Rego %v", f.name, args, gotErr, wantErr)
	case wantErr == nil && (want == nil) != (gotValue == nil), want != nil && wantErr == nil && want.Compare(gotValue) != 0:
		t.Errorf("%s(%v) = %v, in Rego %v", f.name, args, gotValue, want)
	}
	return want != nil
}

// The values that decide: both sides of each tolerance, fractions, numbers no
// int64 holds, and what is no number at all.
var decisive = []string{
	"0", "1", "-1", "2", "9", "10", "11", "12", "-10", "100000", "99990", "99989", "99991", "100010", "100011", "100009", "99999", "100001",
	"20833", "20831", "20830", "1524000", "1523990", "1523989", "1524010", "1524011", "-1524000", "-1524010", "-1524011",
	"0.5", "0.0001", "-0.25", "99990.5", "99989.5", "100010.0", "10.5", "1e3", "1e30", "9223372036854775807", "-9223372036854775808",
	"18446744073709551616", "2305843009213693951", "2305843009213693952", "-2305843009213693952",
	`["a","b","c"]`, `["b","a"]`, `["a","a","b"]`, `["c","x","b","a"]`, `["a",1,"b"]`, `["a",1.0,"b"]`, `["x","y"]`, `["a","y","b","z"]`,
	`"DN 80"`, `"DN 100"`, `""`, `"pvc"`, "true", "false", "null", "[]", "{}", "[1,2]", `["pvc","abs"]`, `["DN 80"]`, `[1,"pvc"]`, `[true]`,
	`[{"at":10000,"value":5},{"at":20833,"value":7},{"at":41667,"value":9}]`, `[{"at":"x","value":5}]`, `[{"value":5}]`, `[{"at":5}]`, `[5]`,
	`{"a":{"at":1,"value":2},"b":{"at":100000,"value":3}}`,
}

func decisiveTerms() []*ast.Term {
	var out []*ast.Term
	for _, text := range decisive {
		out = append(out, ast.MustParseTerm(text))
	}
	// Sets, which facts never are but rules make.
	return append(out, ast.SetTerm(), ast.SetTerm(ast.StringTerm("pvc"), ast.StringTerm("abs")), ast.SetTerm(ast.IntNumberTerm(2), ast.IntNumberTerm(1)),
		ast.SetTerm(ast.MustParseTerm(`{"at":1,"value":2}`), ast.MustParseTerm(`{"at":100000,"value":3}`)))
}

// The functions in Go answer as their definitions in Rego, for every pair of
// the decisive values and for many longer lists of them.
func TestNativesAnswerAsRego(t *testing.T) {
	terms := decisiveTerms()
	random := rand.New(rand.NewPCG(1, 2))
	for _, f := range libraryFunctions(t) {
		t.Run(f.name, func(t *testing.T) {
			answered := 0
			check := func(args ...*ast.Term) {
				if sameAsRego(t, f, args) {
					answered++
				}
			}
			arity := natives[f.name].arity
			for _, a := range terms {
				if arity == 1 {
					check(a)
				}
				for _, b := range terms {
					if arity == 2 {
						check(a, b)
					}
				}
			}
			for range 400 * max(arity-2, 0) {
				args := make([]*ast.Term, arity)
				for i := range args {
					args[i] = terms[random.IntN(44)] // numbers only, else hardly any is answered
				}
				check(args...)
				slices.SortFunc(args[:3], func(a, b *ast.Term) int { return a.Value.Compare(b.Value) })
				check(args...) // ranges in order
				args[random.IntN(arity)] = terms[random.IntN(len(terms))]
				check(args...)
			}
			if answered == 0 {
				t.Error("no arguments were answered")
			}
		})
	}
}

// The twins are used only under the library they were compared with.
func TestNativesAreTheLibrary(t *testing.T) {
	files := os.DirFS("../../policies")
	for file, digest := range nativeLibrary {
		text, err := fs.ReadFile(files, file)
		if err != nil {
			t.Fatal(err)
		}
		if got := digestOf(text); got != digest {
			t.Errorf("%s has changed: see that the functions in native.go still do the same, then write %s into nativeLibrary", file, got)
		}
	}
	if !hasNatives(files) {
		t.Error("the library is not known")
	}
	if hasNatives(overlay{files, "lib/judge.rego", "package lib.judge\n"}) {
		t.Error("another library is taken for the known one")
	}
}

// overlay is a file system with another text for one file.
type overlay struct {
	fs.FS
	file, text string
}

func (o overlay) ReadFile(name string) ([]byte, error) {
	if name == o.file {
		return []byte(o.text), nil
	}
	return fs.ReadFile(o.FS, name)
}
