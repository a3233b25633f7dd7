package policy

import (
	"bytes"
	"cmp"
	"slices"
	"strconv"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"

	"backpitch/engine/profile"
)

// Mutant is one small change to the text of a rule: a comparison turned, a
// condition dropped, another table, another number. A test should notice it.
type Mutant struct {
	File      string
	Line, Col int
	Was, Is   string // "" for a clause that is gone
	Context   string // the line it stands on, trimmed
	source    []byte
}

// Mutants lists the changes to the rule's own text, comments and METADATA
// apart, in the order of the file. The same unit gives the same list.
func (u *Unit) Mutants() []Mutant {
	m := mutator{unit: u, seen: map[string]bool{}, tokens: scan(u.source, bodyStart(u.source))}
	for i := range m.tokens {
		m.token(i)
	}
	m.conditions()
	m.clauses()
	slices.SortStableFunc(m.out, func(a, b Mutant) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Col, b.Col))
	})
	return m.out
}

// Mutate compiles the changed rule with its tests; nil where the compiler
// refuses it, which is one way to notice a change.
func (u *Unit) Mutate(m Mutant) *Unit {
	parsed, err := ast.ParseModuleWithOpts(u.File, string(m.source), parserOptions())
	if err != nil || parsed == nil {
		return nil
	}
	// The package and METADATA are as they were, so what is known of the rule
	// still holds.
	changed := *u.module
	changed.parsed, changed.source = parsed, m.source
	out := &Unit{module: &changed, bench: u.bench, tests: u.tests, aids: u.aids}
	if len(out.compile(parsed, lax)) > 0 {
		return nil
	}
	return out
}

// Refused reports whether the checks of Prepare refuse the unit.
func (u *Unit) Refused() bool {
	checked := &Unit{module: u.module, bench: u.bench}
	if len(checked.compile(u.parsed, withTypes)) > 0 {
		return true
	}
	fresh := *u.module
	fresh.reads, fresh.looks = nil, nil
	c := checker{module: &fresh}
	c.structure()
	c.references()
	c.negations()
	c.presence()
	return len(c.problems) > 0
}

// bodyStart is where the text after the package begins.
func bodyStart(source []byte) int {
	at := bytes.Index(source, []byte("\npackage "))
	if bytes.HasPrefix(source, []byte("package ")) {
		at = 0
	}
	if at < 0 {
		return len(source)
	}
	end := bytes.IndexByte(source[at+1:], '\n')
	if end < 0 {
		return len(source)
	}
	return at + 1 + end
}

type mutator struct {
	unit   *Unit
	tokens []token
	seen   map[string]bool
	out    []Mutant
}

// replace adds the mutant that has other text from off to end.
func (m *mutator) replace(off, end int, with string) {
	source := m.unit.source
	text := slices.Concat(source[:off], []byte(with), source[end:])
	if m.seen[string(text)] {
		return
	}
	m.seen[string(text)] = true
	before := source[:off]
	m.out = append(m.out, Mutant{File: m.unit.File, Line: bytes.Count(before, []byte{'\n'}) + 1,
		Col: off - bytes.LastIndexByte(before, '\n'), Was: string(source[off:end]), Is: with, Context: lineAt(source, off), source: text})
}

func lineAt(source []byte, off int) string {
	from := bytes.LastIndexByte(source[:off], '\n') + 1
	line, _, _ := bytes.Cut(source[from:], []byte{'\n'})
	return string(bytes.TrimSpace(line))
}

var swaps = map[string]string{
	"==": "!=", "!=": "==", "<": "<=", "<=": "<", ">": ">=", ">=": ">", "+": "-", "*": "+", "&": "|",
	"true": "false", "false": "true", "min": "max", "max": "min",
	"table.at_or_below": "table.at_or_above", "table.at_or_above": "table.at_or_below",
	"at_least": "at_most", "at_most": "at_least",
	"judge.at_least": "judge.at_most", "judge.at_most": "judge.at_least",
	"judge.at_least_range": "judge.at_most_range", "judge.at_most_range": "judge.at_least_range",
	"judge.above":   "judge.at_least",
	"judge.is_true": "judge.is_false", "judge.is_false": "judge.is_true",
	"judge.person_decides": "judge.not_required", "judge.not_required": "judge.person_decides",
}

func (m *mutator) token(i int) {
	t := m.tokens[i]
	text := string(m.unit.source[t.off:t.end])
	if other, ok := swaps[text]; ok && !m.heads(i) {
		m.replace(t.off, t.end, other)
	}
	switch {
	case t.kind == number:
		m.number(t, text)
	case t.kind == quoted && !m.is(i+1, ":"):
		if word := strings.Trim(text, `"`); word != "" && !strings.ContainsAny(word, " %") {
			m.replace(t.off, t.end, strconv.Quote("not_"+word))
		}
	case text == "not":
		m.replace(t.off, m.tokens[i+1].off, "")
	case strings.HasPrefix(text, "judge.") && m.is(i+1, "("):
		m.call(i, text)
	case strings.HasPrefix(text, "data.profile."):
		m.table(t, strings.TrimPrefix(text, "data.profile."))
	}
}

// heads reports whether a word begins a rule of that name: a helper may be
// called at_least.
func (m *mutator) heads(i int) bool {
	t := m.tokens[i]
	return t.kind == wordy && (t.off == 0 || m.unit.source[t.off-1] == '\n')
}

func (m *mutator) is(i int, text string) bool {
	return i < len(m.tokens) && string(m.unit.source[m.tokens[i].off:m.tokens[i].end]) == text
}

func (m *mutator) number(t token, text string) {
	n, err := strconv.ParseInt(text, 10, 64)
	if err != nil {
		return
	}
	m.replace(t.off, t.end, strconv.FormatInt(n+1, 10))
	if n > 0 {
		m.replace(t.off, t.end, strconv.FormatInt(n-1, 10))
	}
}

// call replaces a whole judgement: by one that always passes, and a judgement
// on two limits by one on each of them.
func (m *mutator) call(i int, name string) {
	args, end := m.arguments(i + 1)
	if end == 0 {
		return
	}
	off := m.tokens[i].off
	if name != "judge.not_required" {
		m.replace(off, end, `judge.not_required("it always passes")`)
	}
	if name == "judge.between" && len(args) == 3 {
		m.replace(off, end, "judge.at_least("+args[0]+", "+args[1]+")")
		m.replace(off, end, "judge.at_most("+args[0]+", "+args[2]+")")
	}
	if name == "judge.between_range" && len(args) == 5 {
		m.replace(off, end, "judge.at_least_range("+strings.Join(args[:4], ", ")+")")
		m.replace(off, end, "judge.at_most_range("+strings.Join(args[:3], ", ")+", "+args[4]+")")
	}
}

// arguments returns the arguments of a call whose bracket is token i, and the
// offset behind it; 0 where it is not closed.
func (m *mutator) arguments(i int) (args []string, end int) {
	depth, from := 0, m.tokens[i].end
	for _, t := range m.tokens[i:] {
		switch string(m.unit.source[t.off:t.end]) {
		case "(", "[", "{":
			depth++
		case ",":
			if depth == 1 {
				args = append(args, strings.TrimSpace(string(m.unit.source[from:t.off])))
				from = t.end
			}
		case ")", "]", "}":
			if depth--; depth == 0 {
				return append(args, strings.TrimSpace(string(m.unit.source[from:t.off]))), t.end
			}
		}
	}
	return nil, 0
}

// table swaps a table for another that the rule declares, else for none.
func (m *mutator) table(t token, path string) {
	declared := append(slices.Clone(m.unit.Tables), m.unit.Optional...)
	for i, id := range declared {
		rest, ok := strings.CutPrefix(path, id)
		if !ok || rest != "" && rest[0] != '.' {
			continue
		}
		other := "no_such.table"
		if len(declared) > 1 {
			other = declared[(i+1)%len(declared)]
		}
		m.replace(t.off, t.end, "data.profile."+other+rest)
		return
	}
}

// conditions drops each condition of each body, those inside comprehensions
// too. One that binds a name that is used elsewhere does not compile without.
func (m *mutator) conditions() {
	ast.WalkBodies(m.unit.parsed, func(body ast.Body) bool {
		for _, e := range body {
			if loc := e.Location; loc != nil && len(loc.Text) > 0 && string(loc.Text) != "true" {
				if end := loc.Offset + len(loc.Text); end <= len(m.unit.source) && bytes.Equal(m.unit.source[loc.Offset:end], loc.Text) {
					m.replace(loc.Offset, end, "true")
				}
			}
		}
		return false
	})
}

// clauses drops each clause of a rule or helper that has several.
func (m *mutator) clauses() {
	clauses := map[string]int{}
	for _, r := range m.unit.parsed.Rules {
		clauses[word(r.Head.Ref()[0].Value)]++
	}
	for _, r := range m.unit.parsed.Rules {
		loc := r.Location
		end := loc.Offset + len(loc.Text)
		if clauses[word(r.Head.Ref()[0].Value)] > 1 && end <= len(m.unit.source) {
			m.replace(loc.Offset, end, "")
		}
		if r.Else != nil {
			m.replace(r.Else.Location.Offset, end, "")
		}
	}
}

// Change is "== becomes !=", or "without …".
func (m Mutant) Change() string {
	was, is := oneLine(m.Was), oneLine(m.Is)
	switch {
	case m.Is == "":
		return "without " + was
	case m.Is == "true":
		return "without the condition " + was
	}
	return was + " becomes " + is
}

// oneLine shortens a clause to what can be told apart on one line.
func oneLine(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	if len(s) > 90 {
		return s[:87] + "…"
	}
	return s
}

// Helpers returns the helper modules as units, with their own tests.
func (b *Bench) Helpers() ([]*Unit, error) {
	var out []*Unit
	for file, parsed := range b.library {
		m := &module{Rule: profile.Rule{ID: strings.TrimSuffix(file, ".rego"), File: file}, parsed: parsed, source: b.sources[file]}
		u := &Unit{module: m, bench: b}
		name := strings.TrimSuffix(file, ".rego") + "_test.rego"
		tests, err := parseTests(name, b.sources[name])
		if err != nil || tests == nil {
			return nil, &Error{File: name, Message: "the helper has no tests that can be read"}
		}
		u.tests, u.aids = tests, b.aidsOf(tests)
		out = append(out, u)
	}
	slices.SortFunc(out, func(a, b *Unit) int { return cmp.Compare(a.File, b.File) })
	return out, nil
}
