package backcheck

import (
	"encoding/json"
	"maps"
	"slices"
	"strconv"
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

// matching finds elements again whose ids have changed.
type matching struct {
	earlier, later parts
	to             map[string]string // later id of an earlier one that was found
	from           map[string]string
	became         map[string]finding.Part // by later id, once asked
}

// match pairs the elements of two submissions: by id, and what is then left by
// content. Elements that look alike are told apart by what they join; those
// that still look alike are not paired.
func match(earlier, later parts) *matching {
	m := &matching{earlier: earlier, later: later, to: map[string]string{}, from: map[string]string{}, became: map[string]finding.Part{}}
	for id, e := range earlier {
		if l, ok := later[id]; ok && l.Kind == e.Kind {
			m.to[id], m.from[id] = id, id
		}
	}
	for m.round() {
	}
	return m
}

// round pairs what has one partner only, and what the new pairs name; it
// reports whether any was found.
func (m *matching) round() bool {
	const free = "\x00" // no id can be this
	looks := func(all parts, taken map[string]string, known func(string) string) map[string][]string {
		like := map[string][]string{}
		for _, id := range all.ids() {
			if _, ok := taken[id]; !ok {
				p := all[id]
				look := p.Kind + p.with(known)
				like[look] = append(like[look], id)
			}
		}
		return like
	}
	then := looks(m.earlier, m.to, func(id string) string {
		if now, ok := m.to[id]; ok {
			return now
		}
		return free
	})
	now := looks(m.later, m.from, func(id string) string {
		if _, ok := m.from[id]; ok {
			return id
		}
		return free
	})
	found := proposals{}
	for look, a := range then {
		if b := now[look]; len(a) == 1 && len(b) == 1 {
			m.to[a[0]], m.from[b[0]] = b[0], a[0]
			found.add(a[0], b[0])
		}
	}
	any := len(found) > 0
	named := proposals{}
	for then, now := range found {
		named.walk(m.earlier[then].value, m.later[now[0]].value, false)
	}
	return m.take(named) || any
}

// proposals are later ids that an earlier one may have become.
type proposals map[string][]string

func (p proposals) add(then, now string) {
	if !slices.Contains(p[then], now) {
		p[then] = append(p[then], now)
	}
}

// take pairs what was proposed where nothing speaks against it.
func (m *matching) take(named proposals) (any bool) {
	back := proposals{}
	for then, list := range named {
		for _, now := range list {
			back.add(now, then)
		}
	}
	for then, list := range named {
		now := list[0]
		a, ok := m.earlier[then]
		b, ok2 := m.later[now]
		_, taken := m.to[then]
		_, taken2 := m.from[now]
		if len(list) == 1 && len(back[now]) == 1 && ok && ok2 && !taken && !taken2 && a.Kind == b.Kind {
			m.to[then], m.from[now] = now, then
			any = true
		}
	}
	return any
}

// walk proposes the ids that two elements name at the same place.
func (p proposals) walk(a, b any, reference bool) {
	switch a := a.(type) {
	case map[string]any:
		b, _ := b.(map[string]any)
		for _, key := range slices.Sorted(maps.Keys(a)) {
			p.walk(a[key], b[key], references[key])
		}
	case []any:
		b, _ := b.([]any)
		for i := range min(len(a), len(b)) {
			p.walk(a[i], b[i], reference)
		}
	case string:
		if b, ok := b.(string); ok && reference {
			p.add(a, b)
		}
	}
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

// changes lists what became of every element.
func (m *matching) changes() finding.ElementChanges {
	c := finding.ElementChanges{Changed: []finding.ElementChange{}, Renamed: []finding.ElementRename{},
		Added: []finding.ElementName{}, Removed: []finding.ElementName{}}
	if len(m.earlier) == 0 || len(m.later) == 0 {
		return c
	}
	for _, id := range m.later.ids() {
		p := m.later[id]
		name := finding.ElementName{ID: id, Kind: p.Kind}
		if then, ok := m.from[id]; ok && then != id {
			c.Renamed = append(c.Renamed, finding.ElementRename{Earlier: then, Later: id, Kind: p.Kind})
		}
		switch m.part(id) {
		case finding.Unchanged:
			c.Unchanged++
		case finding.Altered:
			c.Changed = append(c.Changed, finding.ElementChange{ElementName: name, Keys: m.keys(m.earlier[m.from[id]], p)})
		default:
			c.Added = append(c.Added, name)
		}
	}
	for _, id := range m.earlier.ids() {
		if _, ok := m.to[id]; !ok {
			c.Removed = append(c.Removed, finding.ElementName{ID: id, Kind: m.earlier[id].Kind})
		}
	}
	return c
}

// keys lists the values of an element that have changed.
func (m *matching) keys(a, b part) []finding.KeyChange {
	list := []finding.KeyChange{}
	differ("", renamed(a.value, false, m.now), b.value, func(c finding.KeyChange) { list = append(list, c) })
	return list
}

// absent is the value of a key that is not there.
type absent struct{}

// differ tells each value that differs, by its path: "trap/seal". Lists of
// another length differ as a whole.
func differ(path string, a, b any, tell func(finding.KeyChange)) {
	objectA, isA := a.(map[string]any)
	objectB, isB := b.(map[string]any)
	listA, isListA := a.([]any)
	listB, isListB := b.([]any)
	switch {
	case isA && isB:
		all := maps.Clone(objectA)
		maps.Copy(all, objectB)
		for _, key := range slices.Sorted(maps.Keys(all)) {
			differ(join(path, key), member(objectA, key), member(objectB, key), tell)
		}
	case isListA && isListB && len(listA) == len(listB):
		for i := range listA {
			differ(join(path, strconv.Itoa(i)), listA[i], listB[i], tell)
		}
	default:
		if a, b := asJSON(a), asJSON(b); a != b {
			tell(finding.KeyChange{Key: path, Earlier: a, Later: b})
		}
	}
}

func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "/" + key
}

func member(object map[string]any, key string) any {
	if v, ok := object[key]; ok {
		return v
	}
	return absent{}
}

func asJSON(v any) string {
	if _, no := v.(absent); no {
		return ""
	}
	text, err := json.Marshal(v)
	if err != nil {
		panic("backcheck: " + err.Error()) // what was read can be written
	}
	return string(text)
}
