package profile

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/santhosh-tekuri/jsonschema/v5"

	"backpitch/engine/spelling"
	"backpitch/schema"
)

// checkSchema validates a document and places each violation in the file.
func checkSchema(d *document, root *node) Errors {
	s, err := schema.Compile("profile")
	if err != nil {
		panic("profile: " + err.Error())
	}
	dec := json.NewDecoder(bytes.NewReader(d.data))
	dec.UseNumber()
	var value any
	if err := dec.Decode(&value); err != nil {
		return Errors{{File: d.file, Message: "not JSON: " + err.Error()}}
	}
	err = s.Validate(value)
	if err == nil {
		return nil
	}
	violation, ok := errors.AsType[*jsonschema.ValidationError](err)
	if !ok {
		return Errors{{File: d.file, Message: err.Error()}}
	}
	var problems Errors
	for _, leaf := range leaves(violation) {
		problems = append(problems, explain(root, leaf)...)
	}
	return problems
}

// leaves returns the violations that have no further cause. Of alternatives
// (anyOf) only the one that came nearest is of interest.
func leaves(v *jsonschema.ValidationError) []*jsonschema.ValidationError {
	if len(v.Causes) == 0 {
		return []*jsonschema.ValidationError{v}
	}
	var out []*jsonschema.ValidationError
	for _, cause := range v.Causes {
		found := leaves(cause)
		if !strings.HasSuffix(v.KeywordLocation, "/anyOf") {
			out = append(out, found...)
			continue
		}
		if out == nil || nearer(found, out) {
			out = found
		}
	}
	return out
}

// nearer prefers the alternative that got deeper into the document, and then
// the one that did not stumble over the type at once.
func nearer(a, b []*jsonschema.ValidationError) bool {
	rank := func(list []*jsonschema.ValidationError) int {
		n := 0
		for _, v := range list {
			r := 2 * strings.Count(v.InstanceLocation, "/")
			if !strings.HasSuffix(v.KeywordLocation, "/type") {
				r++
			}
			n = max(n, r)
		}
		return n
	}
	return rank(a) > rank(b)
}

var (
	quotedName    = regexp.MustCompile(`'([^']*)'`)
	missing       = regexp.MustCompile(`^missing properties: (.*)$`)
	notOneOf      = regexp.MustCompile(`^value must be one of (.*)$`)
	pointerEscape = strings.NewReplacer("~1", "/", "~0", "~")
)

// explain says a violation in our words, at its place.
func explain(root *node, v *jsonschema.ValidationError) Errors {
	at := root.find(v.InstanceLocation)
	where := strings.Join(pointerParts(v.InstanceLocation), ", ")
	if where == "" {
		where = "the profile"
	}
	if strings.HasSuffix(v.KeywordLocation, "/additionalProperties") {
		// The validator has the names in one text, in no order.
		known := siblings(v.AbsoluteKeywordLocation)
		var unknown Errors
		for _, m := range at.members {
			if !slices.Contains(known, m.name) {
				unknown.add(m.node.errorf(DidYouMean(m.name, known), "%s: there is no %q here", where, m.name))
			}
		}
		return unknown
	}
	return Errors{explainOne(at, where, v)}
}

func explainOne(at *node, where string, v *jsonschema.ValidationError) *Error {
	if m := missing.FindStringSubmatch(v.Message); m != nil {
		return at.errorf("", "%s lacks %q", where, firstName(m[1]))
	}
	if m := notOneOf.FindStringSubmatch(v.Message); m != nil {
		var words []string
		for _, w := range regexp.MustCompile(`"([^"]*)"`).FindAllStringSubmatch(m[1], -1) {
			words = append(words, w[1])
		}
		hint := DidYouMean(at.text, words)
		if hint == "" {
			hint = "write " + spelling.Quoted(words, "or")
		}
		return at.errorf(hint, "%s: %s is not a word that fits here", where, at.literal())
	}
	return at.errorf("", "%s: %s", where, v.Message)
}

func firstName(list string) string {
	if m := quotedName.FindStringSubmatch(list); m != nil {
		return m[1]
	}
	return list
}

// literal is the value as an error message shows it.
func (n *node) literal() string {
	switch n.kind {
	case text:
		return strconv.Quote(n.text)
	case number:
		return n.text
	case boolean:
		return strconv.FormatBool(n.flag)
	case null:
		return "null"
	case array:
		return "a list"
	}
	return "an object"
}

// pointerParts are the names in a JSON Pointer as the validator writes it: its
// parts are escaped as those of an address are.
func pointerParts(pointer string) []string {
	if pointer == "" {
		return nil
	}
	parts := strings.Split(strings.TrimPrefix(pointer, "/"), "/")
	for i, part := range parts {
		if plain, err := url.PathUnescape(part); err == nil {
			part = plain
		}
		parts[i] = pointerEscape.Replace(part)
	}
	return parts
}

// find follows a JSON Pointer as far as it goes.
func (n *node) find(pointer string) *node {
	at := n
	for _, part := range pointerParts(pointer) {
		next := at.get(part)
		if i, err := strconv.Atoi(part); err == nil && at.kind == array && i >= 0 && i < len(at.items) {
			next = at.items[i]
		}
		if next == nil {
			return at
		}
		at = next
	}
	return at
}

// siblings returns the property names that the schema knows beside the keyword
// that was broken.
func siblings(keyword string) []string {
	raw, err := schema.Raw("profile")
	if err != nil {
		panic("profile: " + err.Error())
	}
	_, pointer, _ := strings.Cut(keyword, "#")
	d := &document{id: "schema", file: "profile.schema.json", data: raw}
	root, err := d.parse()
	if err != nil {
		panic(fmt.Sprintf("profile: %v", err))
	}
	props := root.find(strings.TrimSuffix(pointer, "/additionalProperties")).get("properties")
	if props == nil {
		return nil
	}
	names := props.names()
	slices.Sort(names)
	return names
}
