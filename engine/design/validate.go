package design

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"

	"github.com/santhosh-tekuri/jsonschema/v5"

	"backpitch/engine/quantity"
	"backpitch/engine/spelling"
	"backpitch/schema"
)

// rules are a schema, compiled, and the same as plain data for what the
// problems say.
type rules struct {
	compiled *schema.Compiled
	root     map[string]any
}

var loaded sync.Map // *rules by the name of the schema

// loadRules returns the schema with that name, which must be embedded.
func loadRules(name string) *rules {
	if r, ok := loaded.Load(name); ok {
		return r.(*rules)
	}
	r := &rules{}
	var err error
	if r.compiled, err = schema.Compile(name); err != nil {
		panic("design: " + err.Error())
	}
	data, err := schema.Raw(name)
	if err == nil {
		err = json.Unmarshal(data, &r.root)
	}
	if err != nil {
		panic("design: " + err.Error())
	}
	known, _ := loaded.LoadOrStore(name, r)
	return known.(*rules)
}

// at returns the part of the schema that a keyword location is in, and the
// keyword: "...#/$defs/pipe/required" is "required" of the pipe.
func (r *rules) at(location string) (part map[string]any, keyword string) {
	_, path, _ := strings.Cut(location, "#")
	tokens := strings.Split(path, "/")
	part = r.root
	for _, t := range tokens[1 : len(tokens)-1] {
		next, ok := part[pointerUnescape.Replace(t)].(map[string]any)
		if !ok {
			panic("design: no schema at " + location)
		}
		part = next
	}
	return part, tokens[len(tokens)-1]
}

// validator turns what the schema library finds into faults.
type validator struct {
	*rules
	table  *table
	faults *faults
	told   map[int32]bool // plain values that have their fault
}

// validate reports where the document does not keep to its schema.
func validate(r *rules, t *table, f *faults) {
	err := r.compiled.Validate(t.value(0))
	if err == nil {
		return
	}
	var found *jsonschema.ValidationError
	if !errors.As(err, &found) {
		panic("design: " + err.Error())
	}
	v := &validator{rules: r, table: t, faults: f, told: map[int32]bool{}}
	v.walk(found)
}

// walk reports the causes at the ends of the tree; what is above them only
// says on which way they were found.
func (v *validator) walk(e *jsonschema.ValidationError) {
	for _, cause := range e.Causes {
		v.walk(cause)
	}
	if len(e.Causes) > 0 {
		return
	}
	n, ok := v.table.resolve(e.InstanceLocation)
	if !ok {
		panic("design: no value at " + e.InstanceLocation)
	}
	part, keyword := v.at(e.AbsoluteKeywordLocation)
	switch keyword {
	case "additionalProperties":
		v.unknownKeys(n, part)
	case "required":
		v.missingKeys(n, part)
	default:
		if !v.told[n] {
			v.told[n] = true
			v.badValue(n, part, keyword, e.Message)
		}
	}
}

func (v *validator) unknownKeys(n int32, part map[string]any) {
	known, _ := part["properties"].(map[string]any)
	t := v.table
	for c := n + 1; c < t.nodes[n].next; c = t.nodes[c].next {
		if _, ok := known[t.key(c)]; ok {
			continue
		}
		v.faults.addAt(c, true, "unknown_key", func() (string, string) {
			key, keys := t.key(c), sortedKeys(known)
			hint := didYouMean(key, keys)
			if hint == "" {
				hint = fmt.Sprintf("the keys of %s are %s", withArticle(title(part)), strings.Join(keys, ", "))
			}
			return fmt.Sprintf("%s has no key %q", withArticle(title(part)), short(key)), hint
		})
	}
}

func (v *validator) missingKeys(n int32, part map[string]any) {
	known, _ := part["properties"].(map[string]any)
	for _, key := range texts(part["required"]) {
		if v.table.child(n, key) >= 0 {
			continue
		}
		v.faults.addAt(n, false, "missing_key", func() (string, string) {
			p, _ := known[key].(map[string]any)
			hint, _ := p["description"].(string)
			if list := texts(p["enum"]); list != nil {
				hint = fmt.Sprintf("%q is one of %s", key, strings.Join(list, ", "))
			}
			return fmt.Sprintf("%s needs the key %q", withArticle(title(part)), key), strings.TrimSuffix(hint, ".")
		})
	}
}

// badValue reports a value that a keyword of its schema does not allow.
func (v *validator) badValue(n int32, part map[string]any, keyword, reason string) {
	t := v.table
	kind := t.nodes[n].kind
	add := func(code string, tell func() (string, string)) { v.faults.addAt(n, false, code, tell) }
	list := texts(part["enum"])
	switch {
	case keyword == "type" && kind == numberNode && quantityKind(part) != "":
		add("bare_number", func() (string, string) {
			return fmt.Sprintf("%s is the bare number %s; %s is text with its unit", v.name(n), t.literal(n), withArticle(title(part))),
				quantityHint(quantityKind(part), t.literal(n))
		})
	case keyword == "type", keyword == "enum" && kind != stringNode:
		add("wrong_type", func() (string, string) {
			return fmt.Sprintf("%s is %s, not %s", v.name(n), words[kind], wanted(part)), v.typeHint(n, part)
		})
	case keyword == "enum":
		add("unknown_word", func() (string, string) {
			word := t.text(n)
			return fmt.Sprintf("%s cannot be %q", v.name(n), short(word)),
				join(didYouMean(word, list), "it is one of "+strings.Join(list, ", "))
		})
	case keyword == "pattern" && title(part) == "id":
		add("bad_id", func() (string, string) {
			return fmt.Sprintf("%q is not an id", short(t.text(n))),
				"an id has letters, digits, dots, dashes and underscores, and starts with a letter or digit"
		})
	case keyword == "pattern" && title(part) != "text":
		add("bad_text", func() (string, string) {
			hint, _ := part["description"].(string)
			return fmt.Sprintf("%q is not %s", short(t.text(n)), withArticle(title(part))), strings.TrimSuffix(hint, ".")
		})
	case keyword == "pattern":
		add("control_character", func() (string, string) {
			return fmt.Sprintf("%s holds a control character", v.name(n)), "write it in one line of plain text"
		})
	case keyword == "minLength":
		add("empty_text", func() (string, string) {
			return v.name(n) + " is empty", "leave the key out when there is nothing to say"
		})
	case keyword == "maxLength":
		add("long_text", func() (string, string) {
			return fmt.Sprintf("%s is longer than %v characters", v.name(n), part["maxLength"]), ""
		})
	case keyword == "minimum", keyword == "maximum", keyword == "exclusiveMinimum":
		add("out_of_range", func() (string, string) {
			return fmt.Sprintf("%s is %s, out of its range", v.name(n), short(t.literal(n))), rangeHint(part)
		})
	default:
		add("schema", func() (string, string) { return fmt.Sprintf("%s: %s", v.name(n), reason), "" })
	}
}

// name says which value node n is.
func (v *validator) name(n int32) string {
	t := v.table
	p := t.nodes[n].parent
	switch {
	case p < 0:
		return "the " + v.faults.what()
	case t.inArray(n):
		return fmt.Sprintf("item %d of %s", t.nodes[n].index+1, v.name(p))
	}
	return fmt.Sprintf("%q", short(t.key(n)))
}

// typeHint guesses what a value of the wrong type was meant to be.
func (v *validator) typeHint(n int32, part map[string]any) string {
	kind := v.table.nodes[n].kind
	switch {
	case kind == nullNode:
		return "leave the key out when the value is not known"
	case part["enum"] != nil:
		return "it is one of " + spelling.Quoted(texts(part["enum"]), "or")
	case kind == stringNode && part["type"] == "boolean":
		return "write true or false, without quotes"
	case kind == stringNode && (part["type"] == "integer" || part["type"] == "number"):
		return "write the number without quotes"
	case part["type"] == "array":
		return "put square brackets around it"
	case quantityKind(part) != "":
		return "write it as " + spelling.Quoted(texts(part["examples"]), "or")
	case part["type"] == "string" && kind == numberNode:
		return "put quotes around it"
	}
	return ""
}

var typeWords = map[string]string{"object": "an object", "array": "a list", "string": "text",
	"integer": "a whole number", "number": "a number", "boolean": "true or false"}

// wanted names the type a part of the schema asks for.
func wanted(part map[string]any) string {
	if part["enum"] != nil {
		return "one of its words"
	}
	t, _ := part["type"].(string)
	return typeWords[t]
}

func rangeHint(part map[string]any) string {
	var limits []string
	for _, l := range []struct{ keyword, text string }{
		{"minimum", "at least %v"}, {"exclusiveMinimum", "more than %v"}, {"maximum", "at most %v"},
	} {
		if x := part[l.keyword]; x != nil {
			limits = append(limits, fmt.Sprintf(l.text, x))
		}
	}
	return "it is " + strings.Join(limits, " and ")
}

// title names a part of the schema for people; parts without one are the
// plain values and objects of documents that no person writes.
func title(part map[string]any) string {
	if t, ok := part["title"].(string); ok {
		return t
	}
	if part["type"] == "object" {
		return "object here"
	}
	return "value allowed here"
}

// texts returns a list of texts in the schema, nil where there is none.
func texts(list any) []string {
	items, _ := list.([]any)
	var out []string
	for _, item := range items {
		s, _ := item.(string)
		out = append(out, s)
	}
	return out
}

const quantityFormat = "quantity-" // what formats of quantities start with

// quantityKind returns the kind of quantity a part of the schema is, or "".
func quantityKind(part map[string]any) quantity.Kind {
	f, _ := part["format"].(string)
	kind, ok := strings.CutPrefix(f, quantityFormat)
	if !ok || !slices.Contains(quantity.Kinds(), quantity.Kind(kind)) {
		return ""
	}
	return quantity.Kind(kind)
}

// quantityHint says how a bare number is written as a quantity.
func quantityHint(kind quantity.Kind, number string) string {
	_, err := quantity.Parse(kind, number)
	var bad *quantity.ParseError
	if errors.As(err, &bad) {
		return bad.Hint
	}
	return ""
}
