package exercise

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"github.com/tailscale/hujson"
)

// arrange prints a design in one fixed layout, so that lines and blanks are
// the same with a fault in it as without: one element a line, and what has
// parts of its own on a line below. Keys keep their order, values their text.
func arrange(design []byte) ([]byte, error) {
	doc, err := hujson.Parse(slices.Clone(design))
	if err != nil {
		return nil, fmt.Errorf("the design is not JSON: %s", strings.TrimPrefix(err.Error(), "hujson: "))
	}
	doc.Standardize() // comments and trailing commas would be hints
	top, ok := doc.Value.(*hujson.Object)
	if !ok {
		return nil, fmt.Errorf("the design is not an object")
	}
	var b bytes.Buffer
	b.WriteString("{")
	for i, m := range top.Members {
		if i > 0 {
			b.WriteString(",")
		}
		b.WriteString("\n  ")
		member(&b, m)
		list, ok := m.Value.Value.(*hujson.Array)
		if !ok || !hasParts(list) {
			inline(&b, m.Value)
			continue
		}
		b.WriteString("[")
		for j, e := range list.Elements {
			if j > 0 {
				b.WriteString(",")
			}
			b.WriteString("\n    ")
			element(&b, e)
		}
		b.WriteString("\n  ]")
	}
	b.WriteString("\n}\n")
	return b.Bytes(), nil
}

// element prints one element: members without parts on its first line, each
// member with parts on a line of its own.
func element(b *bytes.Buffer, e hujson.Value) {
	o, ok := e.Value.(*hujson.Object)
	if !ok {
		inline(b, e)
		return
	}
	b.WriteString("{ ")
	for i, m := range o.Members {
		_, object := m.Value.Value.(*hujson.Object)
		list, isList := m.Value.Value.(*hujson.Array)
		below := i > 0 && (object || isList && hasParts(list))
		switch {
		case below:
			b.WriteString(",\n      ")
		case i > 0:
			b.WriteString(", ")
		}
		member(b, m)
		inline(b, m.Value)
	}
	b.WriteString(" }")
}

func member(b *bytes.Buffer, m hujson.ObjectMember) {
	inline(b, m.Name)
	b.WriteString(": ")
}

// inline prints a value on one line.
func inline(b *bytes.Buffer, v hujson.Value) {
	switch v := v.Value.(type) {
	case *hujson.Object:
		if len(v.Members) == 0 {
			b.WriteString("{}")
			return
		}
		b.WriteString("{ ")
		for i, m := range v.Members {
			if i > 0 {
				b.WriteString(", ")
			}
			member(b, m)
			inline(b, m.Value)
		}
		b.WriteString(" }")
	case *hujson.Array:
		parts := hasParts(v)
		b.WriteString("[")
		for i, e := range v.Elements {
			switch {
			case i > 0:
				b.WriteString(", ")
			case parts:
				b.WriteString(" ")
			}
			inline(b, e)
		}
		if parts {
			b.WriteString(" ")
		}
		b.WriteString("]")
	case hujson.Literal:
		b.Write(v)
	}
}

func hasParts(list *hujson.Array) bool {
	return slices.ContainsFunc(list.Elements, func(e hujson.Value) bool {
		_, ok := e.Value.(*hujson.Object)
		return ok
	})
}

// decoded is a design as maps and lists, numbers as written.
func decoded(design []byte) (map[string]any, error) {
	d := json.NewDecoder(bytes.NewReader(design))
	d.UseNumber()
	var m map[string]any
	err := d.Decode(&m)
	return m, err
}

// adds says whether the planted design has a key or an element that the sound
// one has not: what is new in a file is easy to see, whatever it says.
func adds(sound, planted any) bool {
	switch p := planted.(type) {
	case map[string]any:
		s, ok := sound.(map[string]any)
		if !ok {
			return true
		}
		for key, value := range p {
			old, there := s[key]
			if !there || key == "id" && old != value || adds(old, value) {
				return true
			}
		}
	case []any:
		s, ok := sound.([]any)
		if !ok || len(p) > len(s) {
			return true
		}
		for i, value := range p {
			old := partner(s, i, value)
			if old == nil || adds(old, value) {
				return true
			}
		}
	}
	return false
}

// partner is the element of a list with the id of value or, where elements
// have none, the one in the same place.
func partner(list []any, i int, value any) any {
	m, ok := value.(map[string]any)
	if !ok || m["id"] == nil {
		return list[i]
	}
	for _, old := range list {
		if o, ok := old.(map[string]any); ok && o["id"] == m["id"] {
			return old
		}
	}
	return nil
}
