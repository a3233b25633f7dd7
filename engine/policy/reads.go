package policy

import (
	"slices"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"

	"backpitch/engine/finding"
	"backpitch/engine/profile"
	"backpitch/engine/quantity"
)

// read is one look at a table: which facts of the subject make its key.
type read struct {
	table string
	keys  []keySource
}

// keySource says where one part of a key comes from: a word written in the
// rule, or a fact of the subject. Neither where it cannot be told.
type keySource struct {
	word string
	fact string
	how  string // at_or_below, at_or_above, "" for a match
}

// The columns of the fixture table, which rules read by class.
var fixtureColumns = []string{"fixture.load", "fixture.trap_min"}

// table notes a reference below data.profile.
func (c *checker) table(ref ast.Ref) {
	var parts []string
	for _, t := range ref[2:] {
		s, ok := t.Value.(ast.String)
		if !ok {
			break
		}
		parts = append(parts, string(s))
	}
	if len(parts) == 1 && parts[0] == "id" && len(ref) == 3 {
		return
	}
	declared := append(slices.Clone(c.Tables), c.Optional...)
	for n := len(parts); n > 0; n-- {
		id := strings.Join(parts[:n], ".")
		if slices.Contains(declared, id) {
			c.module.reads = append(c.module.reads, read{id, keySources(ref[2+n:])})
			return
		}
	}
	// data.profile.cleanout[p.reason], or the whole of data.profile.cleanout.
	for _, id := range declared {
		if len(parts) > 0 && strings.HasPrefix(id, strings.Join(parts, ".")+".") {
			return
		}
	}
	if len(parts) == 0 {
		c.refuse(ref[0].Location, "read one table: data.profile.drain.min_slope", "a rule cannot read all of the profile")
		return
	}
	c.refuse(ref[0].Location, `add it to "tables" in the METADATA`, "the rule reads %q, which its METADATA does not declare", strings.Join(parts, "."))
}

func keySources(terms []*ast.Term) []keySource {
	out := make([]keySource, len(terms))
	for i, t := range terms {
		out[i] = sourceOf(t)
	}
	return out
}

// sourceOf reads "word" and p.size; anything else cannot be told.
func sourceOf(t *ast.Term) keySource {
	switch v := t.Value.(type) {
	case ast.String:
		return keySource{word: string(v)}
	case ast.Ref:
		if _, local := v[0].Value.(ast.Var); !local || hasPrefix(v, "data") || hasPrefix(v, "input") {
			return keySource{}
		}
		var path []string
		for _, part := range v[1:] {
			s, ok := part.Value.(ast.String)
			if !ok {
				return keySource{}
			}
			path = append(path, string(s))
		}
		return keySource{fact: strings.Join(path, ".")}
	}
	return keySource{}
}

// steps adds the last key where a table is read through lib.table:
// table.at_or_below(data.profile.building_drain.max_load[p.size], p.slope).
func (c *checker) steps() {
	eachCall(c.parsed, func(terms []*ast.Term) {
		if len(terms) < 3 {
			return
		}
		op, isRef := terms[0].Value.(ast.Ref)
		target, isTable := terms[1].Value.(ast.Ref)
		if !isRef || !isTable || !hasPrefix(target, "data", "profile") {
			return
		}
		how := word(op[len(op)-1].Value)
		if how != "at_or_below" && how != "at_or_above" {
			return
		}
		source := sourceOf(terms[2])
		source.how = how
		for i := range c.module.reads {
			r := &c.module.reads[i]
			path := append([]string{"data", "profile"}, strings.Split(r.table, ".")...)
			if hasPrefix(target, path...) && slices.Equal(r.keys, keySources(target[len(path):])) {
				r.keys = append(r.keys, source)
				return
			}
		}
	})
}

// optionalFacts notes the facts that the rule looks at and that can be absent:
// where it has no answer and every need is there, one of them is why.
func (c *checker) optionalFacts() {
	f := c.fields()
	if f == nil {
		return
	}
	ast.WalkRefs(c.parsed, func(ref ast.Ref) bool {
		if len(ref) < 2 || hasPrefix(ref, "data") || hasPrefix(ref, "input") {
			return false
		}
		name, ok := ref[1].Value.(ast.String)
		if ok && f.Properties[string(name)] != nil && !f.requires(string(name)) && !slices.Contains(c.looks, string(name)) {
			c.module.looks = append(c.module.looks, string(name))
		}
		return false
	})
	slices.Sort(c.module.looks)
}

// Figure is a figure of the profile that a verdict rests on.
type Figure struct {
	Table string
	profile.Cite
}

// figures returns the figures that the subject's verdict rests on, and for a
// table without an entry for the subject the sentence that says so. Where the
// key cannot be told from the rule, the least trusted row stands for the
// table.
func (m *module) figures(p *profile.Profile, lookup func(string) (any, bool)) (figures []Figure, missing []string) {
	for _, id := range append(slices.Clone(m.Tables), m.Optional...) {
		required := slices.Contains(m.Tables, id)
		if slices.Contains(fixtureColumns, id) {
			f, gap := fixtureFigure(p, id, lookup)
			if gap != "" && required {
				missing = append(missing, gap)
			}
			figures = append(figures, f...)
			continue
		}
		t := p.Table(id)
		if t == nil {
			if required {
				missing = append(missing, "the profile has no table "+id)
			}
			continue
		}
		found, gap := m.lookup(t, lookup)
		if gap != "" && required {
			missing = append(missing, gap)
		}
		if found == nil && gap == "" {
			found = leastTrusted(t)
		}
		if found != nil {
			figures = append(figures, Figure{id, found.Cite})
		}
	}
	return figures, missing
}

// lookup finds the subject's entry. Both results are empty where the key
// cannot be told or a fact of it is missing.
func (m *module) lookup(t *profile.Table, fact func(string) (any, bool)) (*profile.Entry, string) {
	if len(t.Keys) == 0 {
		e, ok := t.Lookup()
		if !ok {
			return nil, ""
		}
		return &e, ""
	}
	keys, shown := make([]profile.Key, len(t.Keys)), make([]string, len(t.Keys))
	for i, kind := range t.Keys {
		k, text, ok := keyOf(m.keySource(t.ID, i, kind), kind, fact)
		if !ok {
			return nil, ""
		}
		keys[i], shown[i] = k, text
	}
	e, ok := t.Lookup(keys...)
	if !ok {
		return nil, "table " + t.ID + " has no entry for " + strings.Join(shown, ", ")
	}
	return &e, ""
}

// keySource is the source of key i of a table: as the rule writes it, else by
// the convention that a fact is called like its kind.
func (m *module) keySource(table string, i int, kind quantity.Kind) keySource {
	for _, r := range m.reads {
		if r.table == table && i < len(r.keys) && r.keys[i] != (keySource{}) {
			return r.keys[i]
		}
	}
	if kind == profile.Word {
		return keySource{}
	}
	return keySource{fact: string(kind)}
}

func keyOf(s keySource, kind quantity.Kind, fact func(string) (any, bool)) (k profile.Key, text string, ok bool) {
	var value any = s.word
	if s.word == "" {
		if s.fact == "" {
			return k, "", false
		}
		if value, ok = fact(s.fact); !ok {
			return k, "", false
		}
	}
	switch v := value.(type) {
	case string:
		return profile.ByWord(v), v, v != ""
	case int64:
		if s.how == "at_or_below" || s.how == "" && kind == quantity.Slope {
			return profile.AtOrBelow(v), string(kind) + " " + quantity.Format(kind, v, quantity.US), true
		}
		return profile.AtOrAbove(v), string(kind) + " " + quantity.Format(kind, v, quantity.US), true
	}
	return k, "", false
}

func fixtureFigure(p *profile.Profile, column string, fact func(string) (any, bool)) ([]Figure, string) {
	class, ok := fact("class")
	if !ok {
		return nil, ""
	}
	for _, f := range p.Fixtures {
		if f.Class != class {
			continue
		}
		if column == "fixture.load" && f.Load == nil || column == "fixture.trap_min" && f.Trap == nil {
			break
		}
		return []Figure{{column, f.Cite}}, ""
	}
	name, _ := class.(string)
	return nil, "table " + column + " has no entry for " + name
}

func leastTrusted(t *profile.Table) *profile.Entry {
	rank := map[finding.Basis]int{finding.Checked: 2, finding.CommonPractice: 1, finding.FromMemory: 0}
	var least *profile.Entry
	for _, e := range t.Rows() {
		if least == nil || rank[e.Basis] < rank[least.Basis] {
			least = &e
		}
	}
	return least
}
