package design

import (
	"bytes"
	"encoding/json"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v5"

	"backpitch/engine/quantity"
	"backpitch/schema"
)

// TestSchemaAndTypesAgree walks both: every key of one is in the other, with
// the same type, and is required in both or neither.
func TestSchemaAndTypesAgree(t *testing.T) {
	s := &agreement{T: t, root: loadRules("design").root, seen: map[reflect.Type]bool{}}
	s.object("", s.root, reflect.TypeFor[Document]())
	if len(s.seen) != len(plans) {
		t.Errorf("%d types were compared, %d are decoded", len(s.seen), len(plans))
	}
}

type agreement struct {
	*testing.T
	root map[string]any
	seen map[reflect.Type]bool
}

// resolve returns the definition a part refers to, or the part.
func (s *agreement) resolve(part map[string]any) (name string, resolved map[string]any) {
	ref, ok := part["$ref"].(string)
	if !ok {
		return "", part
	}
	name = strings.TrimPrefix(ref, "#/$defs/")
	return name, s.root["$defs"].(map[string]any)[name].(map[string]any)
}

func (s *agreement) object(path string, part map[string]any, typ reflect.Type) {
	if part["additionalProperties"] != false || part["type"] != "object" || part["description"] == nil || part["title"] == nil {
		s.Errorf("%s is not a closed, titled and described object", path)
	}
	s.seen[typ] = true
	properties := part["properties"].(map[string]any)
	keys := map[string]bool{}
	for i := range typ.NumField() {
		f := typ.Field(i)
		if !f.IsExported() || f.Type == reflect.TypeFor[Position]() {
			continue
		}
		key, option, _ := strings.Cut(f.Tag.Get("json"), ",")
		keys[key] = true
		at := path + "/" + key
		p, ok := properties[key].(map[string]any)
		if !ok {
			s.Errorf("%s is not in the schema", at)
			continue
		}
		optional := option == "omitempty" || option == "omitzero"
		if slices.Contains(texts(part["required"]), key) == optional {
			s.Errorf("%s is required in one of schema and type only", at)
		}
		s.value(at, key, p, f.Type)
	}
	for key := range properties {
		if !keys[key] {
			s.Errorf("%s/%s is not in the types", path, key)
		}
	}
}

func (s *agreement) value(at, key string, part map[string]any, typ reflect.Type) {
	if d, _ := part["description"].(string); key != "" && len(d) < 8 {
		s.Errorf("%s is not described", at)
	}
	name, def := s.resolve(part)
	if typ.Kind() == reflect.Pointer {
		typ = typ.Elem()
	}
	kinds := quantityKinds[typ]
	wantType := map[reflect.Kind]string{reflect.Slice: "array", reflect.String: "string", reflect.Bool: "boolean",
		reflect.Int: "integer", reflect.Float64: "number", reflect.Struct: "object"}[typ.Kind()]
	switch {
	case kinds != nil:
		if quantityKind(def) != kinds[0] {
			s.Errorf("%s is %s in the schema, %s in the types", at, quantityKind(def), kinds[0])
		}
		if signed := name == "elevation" || name == "height" || name == "slope"; signed != mayBeNegative[key] {
			s.Errorf("%s may be negative in one of schema and decoder only", at)
		}
		return
	case def["enum"] != nil:
		if typ.Kind() != reflect.String {
			s.Errorf("%s has words in the schema, %s in the types", at, typ)
		}
		return
	case def["type"] != wantType, def["format"] != nil:
		s.Errorf("%s is %v in the schema, %s in the types", at, def["type"], typ)
		return
	}
	switch {
	case typ.Kind() == reflect.Struct && !s.seen[typ]:
		s.object(at, def, typ)
	case typ.Kind() == reflect.Slice:
		s.value(at+"/0", "", def["items"].(map[string]any), typ.Elem())
	}
}

// TestExamples: every example keeps to its own part of the schema, and those
// of quantities can be read. Every plain value has one.
func TestExamples(t *testing.T) {
	raw, err := schema.Raw("design")
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("https://backpitch.invalid/d.json", bytes.NewReader(raw)); err != nil {
		t.Fatal(err)
	}
	s := &agreement{T: t, root: loadRules("design").root}
	count := 0
	check := func(pointer string, part map[string]any) {
		_, def := s.resolve(part)
		examples, _ := part["examples"].([]any)
		if len(examples) == 0 && def["type"] != "object" && def["type"] != "array" {
			t.Errorf("%s has no example", pointer)
		}
		for _, x := range examples {
			count++
			compiled, err := c.Compile("https://backpitch.invalid/d.json#" + pointer)
			if err != nil {
				t.Fatal(err)
			}
			if err := compiled.Validate(x); err != nil {
				t.Errorf("%s: %v is no example: %v", pointer, x, err)
			}
			if kind := quantityKind(def); kind == quantity.Load {
				if _, err := quantity.ParseOneOf(x.(string), quantityKinds[reflect.TypeFor[Load]()]...); err != nil {
					t.Errorf("%s: %v", pointer, err)
				}
			} else if kind != "" {
				if _, err := quantity.Parse(kind, x.(string)); err != nil {
					t.Errorf("%s: %v", pointer, err)
				}
			}
		}
	}
	parts := map[string]any{"": s.root}
	for name, def := range s.root["$defs"].(map[string]any) {
		parts["/$defs/"+name] = def
	}
	for pointer, part := range parts {
		p := part.(map[string]any)
		properties, isObject := p["properties"].(map[string]any)
		if !isObject {
			check(pointer, p)
		}
		for key, property := range properties {
			check(pointer+"/properties/"+key, property.(map[string]any))
		}
	}
	if count < 150 {
		t.Errorf("only %d examples", count)
	}
}

// TestSampleStatesEveryKey keeps the sample complete.
func TestSampleStatesEveryKey(t *testing.T) {
	used := map[string]bool{}
	var collect func(any)
	collect = func(x any) {
		switch x := x.(type) {
		case map[string]any:
			for k, v := range x {
				used[k] = true
				collect(v)
			}
		case []any:
			for _, v := range x {
				collect(v)
			}
		}
	}
	var sample any
	if err := json.Unmarshal(studio(t), &sample); err != nil {
		t.Fatal(err)
	}
	collect(sample)
	for typ, p := range plans {
		for key := range p.fields {
			if !used[key] {
				t.Errorf("the sample has no %q (%s)", key, typ)
			}
		}
	}
}
