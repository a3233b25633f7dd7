package policy

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"testing"
	"testing/fstest"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/rego"

	"backpitch/engine/facts"
	"backpitch/engine/profile"
)

// fill sets every field at random: pointers nil or set, slices short.
func fill(r *rand.Rand, v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if r.IntN(3) > 0 {
			v.Set(reflect.New(v.Type().Elem()))
			fill(r, v.Elem())
		}
	case reflect.Struct:
		for i := range v.NumField() {
			fill(r, v.Field(i))
		}
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), r.IntN(4), 4))
		for i := range v.Len() {
			fill(r, v.Index(i))
		}
	case reflect.String:
		if r.IntN(3) > 0 {
			v.SetString(fmt.Sprintf("w%d \"é\"", r.IntN(9)))
		}
	case reflect.Bool:
		v.SetBool(r.IntN(2) == 0)
	case reflect.Int64:
		v.SetInt([]int64{0, -1, 7, 20833, -20833, 1<<53 - 1, 1 << 62}[r.IntN(7)])
	}
}

// OPA's own conversion, a round trip through JSON, is what we must equal.
func TestValueOfEqualsOPAs(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for i := range 60 {
		var f facts.Facts
		fill(r, reflect.ValueOf(&f).Elem())
		want, err := ast.InterfaceToValue(&f)
		if err != nil {
			t.Fatal(err)
		}
		if got := valueOf(&f); got.Compare(want) != 0 {
			t.Fatalf("%d: valueOf differs:\n%v\n%v", i, got, want)
		}
	}
}

func TestNilListsAreEmpty(t *testing.T) {
	v := valueOf(&facts.Facts{}).(ast.Object)
	if drains := v.Get(ast.StringTerm("drains")); drains.String() != "[]" {
		t.Errorf("no drains are %s, want []", drains)
	}
}

// The Go lookup and lib/table.rego must choose the same row, at the limit too.
func TestTablesAreReadAlikeInGoAndRego(t *testing.T) {
	fsys := policiesFS(t, map[string]string{"drain/too_flat": tooFlat})
	fsys["profiles/p/profile.json"] = &fstest.MapFile{Data: []byte(`{"id":"p","title":"P","edition":"1","authority":"a","units":"US","verify":"verify",
	  "sources":{"b":{"title":"b"}},"method":{"load":"fixture_units"},"tables":{"t.steps":{"keys":["length"],"value":"count","basis":"checked","source":"b",
	  "rows":{"1 in":"1","5 ft":"2","40 ft":"3"}}},"adopts":{"drain/too_flat":{"section":"1","basis":"checked","source":"b"}}}`)}
	p, err := profile.Load(fsys, "p")
	if err != nil {
		t.Fatal(err)
	}
	prepared, err := Prepare(t.Context(), fsys, p)
	if err != nil {
		t.Fatal(err)
	}
	steps := p.Table("t.steps")
	for name, key := range map[string]func(int64) profile.Key{"at_or_below": profile.AtOrBelow, "at_or_above": profile.AtOrAbove} {
		q, err := rego.New(rego.Query("x = data.lib.table."+name+"(data.profile.t.steps, input)"), rego.Compiler(prepared.compiler),
			rego.Store(prepared.store)).PrepareForEval(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		for _, at := range []int64{0, 25400, 1524000, 12192000} {
			for off := int64(-15); off <= 15; off++ {
				rs, err := q.Eval(t.Context(), rego.EvalInput(at+off))
				if err != nil {
					t.Fatal(err)
				}
				want := "nothing"
				if len(rs) > 0 {
					want = fmt.Sprint(rs[0].Bindings["x"])
				}
				got := "nothing"
				if e, ok := steps.Lookup(key(at + off)); ok {
					got = fmt.Sprint(e.Value)
				}
				if got != want {
					t.Errorf("%s(%d): Go reads %s, Rego %s", name, at+off, got, want)
				}
			}
		}
	}
}
