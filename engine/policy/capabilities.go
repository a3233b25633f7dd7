package policy

import (
	"slices"
	"sync"

	"github.com/open-policy-agent/opa/v1/ast"
)

// allowed are the only functions that rules may call. An allow list, so that
// what a later OPA brings stays out until someone has looked at it. Left out
// on purpose are those that reach outside (http, net, time, rand, uuid, opa),
// those that can fill the memory in one call (bits, numbers.range, replace,
// strings.*), and those that turn text into numbers: facts are numbers already.
var allowed = []string{
	"abs", "all", "and", "any", "array.concat", "array.flatten", "array.reverse", "array.slice", "assign", "ceil", "concat",
	"contains", "count", "div", "endswith", "eq", "equal", "floor", "gt", "gte", "indexof", "intersection",
	"is_array", "is_boolean", "is_null", "is_number", "is_object", "is_set", "is_string", "lower", "lt", "lte",
	"max", "min", "minus", "mul", "neq", "object.filter", "object.get", "object.keys", "object.remove",
	"object.subset", "object.union", "object.union_n", "or", "plus", "product", "rem", "round", "sort", "split",
	"sprintf", "startswith", "substring", "sum", "trim", "trim_prefix", "trim_suffix", "type_name", "union", "upper",
}

// internal are the functions the compiler itself writes into rules.
var internal = []string{"internal.member_2", "internal.member_3", "internal.template_string", "internal.test_case"}

// capabilities is what rules of any origin get.
var capabilities = sync.OnceValue(func() *ast.Capabilities {
	c := ast.CapabilitiesForThisVersion()
	c.Builtins = slices.DeleteFunc(c.Builtins, func(b *ast.Builtin) bool {
		return !slices.Contains(allowed, b.Name) && !slices.Contains(internal, b.Name)
	})
	c.AllowNet = []string{}
	return c
})
