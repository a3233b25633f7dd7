package backcheck

import (
	"encoding/json"
	"maps"
	"slices"
	"strings"

	"backpitch/engine/finding"
)

// references are the keys of a design that hold the ids of elements.
var references = map[string]bool{"id": true, "from": true, "to": true, "run": true, "basin": true, "pump": true, "fixtures": true}

// part is one element of a submission.
type part struct {
	finding.Element
	value any
}

// parts are the elements of one submission, by id.
type parts map[string]part

func partsOf(r finding.Review) parts {
	all := parts{}
	for _, e := range r.Elements {
		p := part{Element: e}
		if err := json.Unmarshal(e.Value, &p.value); err != nil {
			p.value = string(e.Value) // it was not read from a document
		}
		if project, ok := p.value.(map[string]any); ok && e.ID == "project" {
			delete(project, "revision") // every submission has another
		}
		all[e.ID] = p
	}
	return all
}

func (p parts) ids() []string { return slices.Sorted(maps.Keys(p)) }

// with returns the element as JSON, keys in order, each id in it as name gives it.
func (p part) with(name func(id string) string) string {
	text, err := json.Marshal(renamed(p.value, false, name))
	if err != nil {
		panic("backcheck: " + err.Error()) // what was read can be written
	}
	return string(text)
}

// renamed copies a value; reference says that texts in it are ids.
func renamed(v any, reference bool, name func(string) string) any {
	switch v := v.(type) {
	case map[string]any:
		out := make(map[string]any, len(v))
		for key, x := range v {
			out[key] = renamed(x, references[key], name)
		}
		return out
	case []any:
		out := make([]any, len(v))
		for i, x := range v {
			out[i] = renamed(x, reference, name)
		}
		return out
	case string:
		if reference {
			return name(v)
		}
	}
	return v
}

// matching is which element of the earlier submission is which of the later.
type matching struct {
	earlier, later parts
	to             map[string]string // later id of an earlier one that was found
	from           map[string]string
	became         map[string]finding.Part // by later id, once asked
}

// now returns the later id of an earlier one. One that was not found keeps its
// own, marked as gone where the later submission has given it away.
func (m *matching) now(id string) string {
	if to, ok := m.to[id]; ok {
		return to
	}
	_, was := m.earlier[id]
	if _, given := m.later[id]; was && given {
		return gone + id
	}
	return id
}

const gone = "\x00"

// part says what became of the element of a later id.
func (m *matching) part(id string) finding.Part {
	p, ok := m.became[id]
	if !ok {
		p = m.compare(id)
		m.became[id] = p
	}
	return p
}

func (m *matching) compare(id string) finding.Part {
	b, isNow := m.later[id]
	then, found := m.from[id]
	switch {
	case len(m.earlier) == 0 || len(m.later) == 0:
		return finding.UnknownPart
	case isNow && found && m.earlier[then].with(m.now) == b.with(same):
		return finding.Unchanged
	case isNow && found:
		return finding.Altered
	case isNow:
		return finding.Added
	}
	if _, was := m.earlier[strings.TrimPrefix(id, gone)]; was {
		return finding.Removed
	}
	return finding.UnknownPart
}

func same(id string) string { return id }
