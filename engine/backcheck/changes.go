package backcheck

import (
	"encoding/json"
	"maps"
	"slices"
	"strconv"

	"backpitch/engine/finding"
)

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
