package random

import (
	"bytes"
	"encoding/json"
	"slices"
	"strings"
)

// The lists of a design, in the order in which they are written.
const (
	fixtures = iota
	groups
	junctions
	pipes
	terminals
	basins
	pumps
	supplies
	connections
	kinds
)

var listNames = [kinds]string{"fixtures", "bathroom_groups", "junctions", "pipes", "terminals", "basins", "pumps", "electrical", "connections"}

// element is one JSON object, its keys in the order in which they were set.
type element struct {
	g    *maker
	keys []string
	held []any // string, bool, int, float64, []string, *element or []*element
}

func (g *maker) object() *element { return &element{g: g} }

// add begins an element of a list.
func (g *maker) add(list int, id string) *element {
	e := g.device(id)
	g.lists[list] = append(g.lists[list], e)
	return e
}

// device begins an element that stands inside another.
func (g *maker) device(id string) *element {
	g.made++
	return g.object().must("id", id)
}

// must sets a key that cannot be left out. Empty text and empty lists are none;
// what is set already stays.
func (e *element) must(key string, value any) *element {
	if slices.Contains(e.keys, key) {
		return e
	}
	switch v := value.(type) {
	case string:
		if v == "" {
			return e
		}
	case []*element:
		if len(v) == 0 {
			return e
		}
	case *element:
		if v == nil {
			return e
		}
	}
	e.keys, e.held = append(e.keys, key), append(e.held, value)
	return e
}

// may sets a key that the design may be silent about.
func (e *element) may(key string, value any) *element {
	if e.g.IntN(1000) < e.g.silent {
		return e
	}
	return e.must(key, value)
}

// rarely sets a key in so many of a hundred cases.
func (e *element) rarely(percent int, key string, value any) *element {
	if !e.g.chance(percent) {
		return e
	}
	return e.may(key, value)
}

// yes sets true where practice wants it, false else.
func (e *element) yes(key string) *element { return e.may(key, e.g.usual()) }

// no sets false where practice wants it, true else.
func (e *element) no(key string) *element { return e.may(key, !e.g.usual()) }

// write gives the document: an element a line.
func (g *maker) write() []byte {
	var b bytes.Buffer
	b.WriteString("{\n")
	for i, name := range [...]string{"project", "building"} {
		if i > 0 {
			b.WriteString(",\n")
		}
		b.WriteString("  \"" + name + "\": ")
		g.head[i].write(&b)
	}
	for i, e := range g.head[2].keys {
		b.WriteString(",\n  ")
		write(&b, e)
		b.WriteString(": ")
		write(&b, g.head[2].held[i])
	}
	for i, list := range g.lists {
		if len(list) == 0 {
			continue
		}
		b.WriteString(",\n  \"" + listNames[i] + "\": [\n")
		for j, e := range list {
			b.WriteString("    ")
			e.write(&b)
			if j < len(list)-1 {
				b.WriteByte(',')
			}
			b.WriteByte('\n')
		}
		b.WriteString("  ]")
	}
	b.WriteString("\n}\n")
	return b.Bytes()
}

func (e *element) write(b *bytes.Buffer) {
	b.WriteByte('{')
	for i, key := range e.keys {
		if i > 0 {
			b.WriteString(", ")
		}
		write(b, key)
		b.WriteString(": ")
		write(b, e.held[i])
	}
	b.WriteByte('}')
}

func write(b *bytes.Buffer, value any) {
	switch v := value.(type) {
	case *element:
		v.write(b)
	case []*element:
		b.WriteByte('[')
		for i, e := range v {
			if i > 0 {
				b.WriteString(", ")
			}
			e.write(b)
		}
		b.WriteByte(']')
	default:
		text, err := json.Marshal(v)
		if err != nil {
			panic("random: " + err.Error())
		}
		b.Write(text)
	}
}

func words(s string) []string { return strings.Fields(s) }
