package policy

import (
	"reflect"
	"strings"
	"sync"

	"github.com/open-policy-agent/opa/v1/ast"
)

// plan says how a struct type becomes an object; it is made once for a type.
type plan []planField

type planField struct {
	key       *ast.Term
	index     int
	omitEmpty bool
	build     func(reflect.Value) *ast.Term
}

var plans sync.Map // reflect.Type → plan

// valueOf builds the input of rules from facts: what a round trip through JSON
// would give, without the trip. A nil slice is an empty array, not null.
func valueOf(facts any) ast.Value {
	v := reflect.ValueOf(facts)
	if v.Kind() == reflect.Pointer {
		v = v.Elem()
	}
	return planOf(v.Type()).object(v)
}

func planOf(t reflect.Type) plan {
	if p, ok := plans.Load(t); ok {
		return p.(plan)
	}
	var p plan
	for i := range t.NumField() {
		f := t.Field(i)
		name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		if name == "-" || !f.IsExported() {
			continue
		}
		if name == "" {
			panic("policy: " + t.String() + "." + f.Name + " has no json name")
		}
		p = append(p, planField{ast.InternedTerm(name), i, strings.Contains(options, "omitempty"), builder(f.Type)})
	}
	plans.Store(t, p)
	return p
}

// object makes the object in one call: inserting one by one sums the hashes
// anew each time.
func (p plan) object(v reflect.Value) ast.Value {
	pairs := make([][2]*ast.Term, 0, len(p))
	for i := range p {
		f := &p[i]
		field := v.Field(f.index)
		if field.Kind() == reflect.Pointer {
			if field.IsNil() {
				continue
			}
			field = field.Elem()
		} else if f.omitEmpty && empty(field) {
			continue
		}
		pairs = append(pairs, [2]*ast.Term{f.key, f.build(field)})
	}
	return ast.NewObject(pairs...)
}

// empty is what encoding/json leaves out.
func empty(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Slice, reflect.String:
		return v.Len() == 0
	case reflect.Struct:
		return false
	}
	return v.IsZero()
}

func builder(t reflect.Type) func(reflect.Value) *ast.Term {
	switch t.Kind() {
	case reflect.Pointer:
		return builder(t.Elem())
	case reflect.String:
		return func(v reflect.Value) *ast.Term { return ast.InternedTerm(v.String()) }
	case reflect.Bool:
		return func(v reflect.Value) *ast.Term { return ast.InternedTerm(v.Bool()) }
	case reflect.Int64:
		return func(v reflect.Value) *ast.Term { return ast.InternedTerm(v.Int()) }
	case reflect.Struct:
		return func(v reflect.Value) *ast.Term { return ast.NewTerm(planOf(v.Type()).object(v)) }
	case reflect.Slice:
		build := builder(t.Elem())
		return func(v reflect.Value) *ast.Term {
			items := make([]*ast.Term, v.Len())
			for i := range items {
				items[i] = build(v.Index(i))
			}
			return ast.NewTerm(ast.NewArray(items...))
		}
	}
	panic("policy: no value for a fact of type " + t.String())
}

// goValue is a measured value or limit as Go has it: int64, bool, string,
// []string or []int64; false for anything else. A number with a fraction is
// rounded: it has been compared already and is only shown.
func goValue(t *ast.Term) (any, bool) {
	switch v := t.Value.(type) {
	case ast.Boolean:
		return bool(v), true
	case ast.String:
		return string(v), true
	case ast.Number:
		return whole(v)
	case *ast.Array:
		return goList(v)
	}
	return nil, false
}

func whole(n ast.Number) (any, bool) {
	if i, ok := n.Int64(); ok {
		return i, true
	}
	f, ok := n.Float64()
	if !ok || f > 1<<53 || f < -1<<53 {
		return nil, false
	}
	if f < 0 {
		return int64(f - 0.5), true
	}
	return int64(f + 0.5), true
}

func goList(a *ast.Array) (any, bool) {
	words, numbers := make([]string, 0, a.Len()), make([]int64, 0, a.Len())
	for i := range a.Len() {
		item, _ := goValue(a.Elem(i))
		switch item := item.(type) {
		case string:
			words = append(words, item)
		case int64:
			numbers = append(numbers, item)
		}
	}
	switch {
	case len(words) == a.Len():
		return words, true
	case len(numbers) == a.Len():
		return numbers, true
	}
	return nil, false
}
