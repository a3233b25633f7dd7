package policy

import (
	"cmp"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/topdown"

	"backpitch/engine/profile"
)

// Error is a broken rule. Line and Col count from 1, 0 where unknown; Rule is
// "" for a helper. Hint says what to do and is not part of Error().
type Error struct {
	Rule    string
	File    string
	Line    int
	Col     int
	Message string
	Hint    string
	cause   error
}

// Error is "file:line:col: message".
func (e *Error) Error() string {
	switch {
	case e.File == "":
		return e.Message
	case e.Line == 0:
		return e.File + ": " + e.Message
	}
	return fmt.Sprintf("%s:%d:%d: %s", e.File, e.Line, e.Col, e.Message)
}

// Unwrap gives the context's error where a deadline stopped the rules.
func (e *Error) Unwrap() error { return e.cause }

// HintText returns the hint, so that a caller need not know the type.
func (e *Error) HintText() string { return e.Hint }

// Errors is everything wrong with a set of rules, by file and place.
type Errors []*Error

// Error lists the errors, each with its hint, as those of profiles are listed.
func (list Errors) Error() string { return profile.Lines(list) }

// HintText returns the hint of a single error.
func (list Errors) HintText() string { return profile.OneHint(list) }

// Unwrap lets errors.As find each [*Error].
func (list Errors) Unwrap() []error {
	out := make([]error, len(list))
	for i, e := range list {
		out[i] = e
	}
	return out
}

// sorted returns nil for no errors, so that callers can return it as error.
func (list Errors) sorted() error {
	if len(list) == 0 {
		return nil
	}
	slices.SortStableFunc(list, func(a, b *Error) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Col, b.Col),
			cmp.Compare(a.Message, b.Message))
	})
	return slices.CompactFunc(list, func(a, b *Error) bool { return *a == *b })
}

func at(loc *ast.Location, file string) Error {
	if loc == nil {
		return Error{File: file}
	}
	return Error{File: cmp.Or(loc.File, file), Line: loc.Row, Col: loc.Col}
}

// fromOPA turns OPA's errors of parsing and compiling into ours. ruleOf names
// the rule that a file holds.
func fromOPA(err error, file string, ruleOf func(file string) string) Errors {
	var list ast.Errors
	if !errors.As(err, &list) {
		return Errors{{Rule: ruleOf(file), File: file, Message: err.Error()}}
	}
	var out Errors
	for _, e := range list {
		own := at(e.Location, file)
		own.Rule = ruleOf(own.File)
		own.Message, own.Hint = explain(e)
		out = append(out, &own)
	}
	return out
}

// explain says OPA's finding in our words where rule writers meet it often.
func explain(e *ast.Error) (message, hint string) {
	if d, ok := e.Details.(*ast.RefErrInvalidDetail); ok && d.Have == nil && d.Pos < len(d.Ref) {
		name, valid := word(d.Ref[d.Pos].Value), make([]string, 0, len(d.OneOf))
		for _, v := range d.OneOf {
			valid = append(valid, word(v))
		}
		slices.Sort(valid)
		message = fmt.Sprintf("%s: there is no %q", d.Ref[:d.Pos+1], name)
		if near := profile.Nearest(name, valid); len(near) > 0 {
			return message, fmt.Sprintf("did you mean %q? There is %s", near[0], strings.Join(valid, ", "))
		}
		if len(valid) > 0 {
			hint = "there is " + strings.Join(valid, ", ")
		}
		return message, hint
	}
	message = lowerFirst(e.Message)
	if name, ok := strings.CutPrefix(e.Message, "undefined function "); ok {
		return message, builtinHint(name)
	}
	for _, p := range plainly {
		if m := p.says.FindStringSubmatch(message); m != nil {
			return message, p.hint(m)
		}
	}
	return message, hint
}

// plainly says what to do about what OPA finds most often in a rule that
// somebody writes.
var plainly = []struct {
	says *regexp.Regexp
	hint func(m []string) string
}{
	{regexp.MustCompile(`^var (\S+) is unsafe`), func(m []string) string {
		return fmt.Sprintf("nothing gives %q a value: write some %s in …, or %s := …, or mend its name", m[1], m[1], m[1])
	}},
	{regexp.MustCompile(`^(?:assigned|declared) var (\S+) unused`), func(m []string) string {
		return fmt.Sprintf("use %q, or take the line out", m[1])
	}},
	{regexp.MustCompile(`^import (\S+) unused`), func(m []string) string { return "take the import out" }},
	{regexp.MustCompile("^`if` keyword is required"), func([]string) string { return "write if before the {" }},
	{regexp.MustCompile("^`contains` keyword is required"), func([]string) string { return "write names contains n if { … } for a set" }},
	{regexp.MustCompile(`invalid argument\(s\)`), func([]string) string {
		return "a number and a word, or a list, do not go together here: see the fact's type in backpitch schema facts"
	}},
	{regexp.MustCompile(`^match error`), func([]string) string {
		return "the two sides can never be equal: see the fact's type in backpitch schema facts"
	}},
	{regexp.MustCompile(`^function \S+\.(\w+) has arity (\d+), got`), func(m []string) string {
		return fmt.Sprintf("%s takes %s arguments", m[1], m[2])
	}},
	{regexp.MustCompile(`^illegal token`), func([]string) string { return `words stand in double quotes: "vertical"` }},
	{regexp.MustCompile(`^var (\S+) (?:declared|assigned|referenced) above`), func(m []string) string {
		return fmt.Sprintf("%q has a value already: compare with ==, or take another name", m[1])
	}},
}

// builtinHint says what can be called instead of a function that does
// not exist or is withheld from rules.
func builtinHint(name string) string {
	if near := profile.Nearest(strings.TrimPrefix(name, "data.lib."), append(slices.Clone(helpers), allowed...)); len(near) > 0 {
		return fmt.Sprintf("did you mean %q?", near[0])
	}
	if strings.Contains(name, ".") && !strings.HasPrefix(name, "data.") {
		return "rules get no network, clock, environment or chance, and no call that can fill the memory"
	}
	return ""
}

// helpers are what rules call of policies/lib; a test holds that they are there.
var helpers = []string{
	"judge.at_least", "judge.at_most", "judge.between", "judge.at_least_range", "judge.at_most_range", "judge.between_range",
	"judge.above", "judge.same", "judge.is_true", "judge.is_false", "judge.one_of", "judge.in_order", "judge.none",
	"judge.person_decides", "judge.not_required", "table.at_or_below", "table.at_or_above", "table.size_key",
}

func word(v ast.Value) string {
	if s, ok := v.(ast.String); ok {
		return string(s)
	}
	return v.String()
}

func lowerFirst(s string) string {
	s = strings.TrimSuffix(strings.TrimSpace(s), ".")
	if s == "" || len(s) > 1 && s[1] >= 'A' && s[1] <= 'Z' {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

// fromEval turns an error of evaluation into ours.
func fromEval(err error, rule, file string) *Error {
	if te, ok := errors.AsType[*topdown.Error](err); ok {
		own := at(te.Location, file)
		own.Rule, own.Message = rule, lowerFirst(te.Message)
		return &own
	}
	return &Error{Rule: rule, File: file, Message: err.Error()}
}
