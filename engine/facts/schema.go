package facts

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
	"strings"

	"backpitch/engine/quantity"
)

// property is one JSON Schema node, its members in the order they are printed.
type property struct {
	Schema      string       `json:"$schema,omitempty"`
	ID          string       `json:"$id,omitempty"`
	Title       string       `json:"title,omitempty"`
	Description string       `json:"description,omitempty"`
	Unit        string       `json:"unit,omitempty"`
	Type        string       `json:"type"`
	Items       *property    `json:"items,omitempty"`
	Properties  *propertySet `json:"properties,omitempty"`
	Required    []string     `json:"required,omitempty"`
	Additional  *bool        `json:"additionalProperties,omitempty"`
}

// propertySet keeps the order of the struct fields.
type propertySet struct {
	names []string
	props []*property
}

// MarshalJSON writes the members in order.
func (s *propertySet) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, name := range s.names {
		if i > 0 {
			b.WriteByte(',')
		}
		key, err := json.Marshal(name)
		if err != nil {
			return nil, err
		}
		val, err := json.Marshal(s.props[i])
		if err != nil {
			return nil, err
		}
		b.Write(key)
		b.WriteByte(':')
		b.Write(val)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// Schema returns schema/facts.schema.json: the JSON Schema of Facts, made from
// its struct tags. Rules are type-checked against it.
func Schema() []byte {
	root := objectOf(reflect.TypeFor[Facts]())
	root.Schema = "https://json-schema.org/draft/2020-12/schema"
	root.ID = "facts.schema.json"
	root.Title = "Facts"
	root.Description = "What rules read as input. Every number is a whole number in the fixed unit of its kind; a fact that is not known is absent."
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(root); err != nil {
		panic("facts: " + err.Error())
	}
	return b.Bytes()
}

// objectOf describes a struct; panics where a tag of our own types is wrong.
func objectOf(t reflect.Type) *property {
	no := false
	out := &property{Type: "object", Properties: &propertySet{}, Additional: &no}
	for i := range t.NumField() {
		f := t.Field(i)
		name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		doc := f.Tag.Get("doc")
		if name == "" || doc == "" {
			panic(fmt.Sprintf("facts: %s.%s lacks a json or doc tag", t.Name(), f.Name))
		}
		p := propertyOf(f.Type)
		p.Description = doc
		addUnit(p, f.Tag.Get("unit"), t.Name()+"."+f.Name)
		out.Properties.names = append(out.Properties.names, name)
		out.Properties.props = append(out.Properties.props, p)
		if options != "omitempty" {
			out.Required = append(out.Required, name)
		}
	}
	return out
}

// addUnit names the fixed unit; every number has one, nothing else has.
func addUnit(p *property, kind, field string) {
	if (kind != "") != (p.Type == "integer") {
		panic(fmt.Sprintf("facts: %s: a number needs a unit, anything else has none", field))
	}
	if kind == "" {
		return
	}
	unit, ok := quantity.Units()[quantity.Kind(kind)]
	if !ok {
		panic(fmt.Sprintf("facts: %s: %q is no quantity kind", field, kind))
	}
	p.Unit = kind
	p.Description += " (" + unit + ")"
}

func propertyOf(t reflect.Type) *property {
	switch t.Kind() {
	case reflect.Pointer:
		return propertyOf(t.Elem())
	case reflect.String:
		return &property{Type: "string"}
	case reflect.Bool:
		return &property{Type: "boolean"}
	case reflect.Int64:
		return &property{Type: "integer"}
	case reflect.Slice:
		return &property{Type: "array", Items: propertyOf(t.Elem())}
	case reflect.Struct:
		return objectOf(t)
	}
	panic("facts: no JSON type for " + t.String())
}
