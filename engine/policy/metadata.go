package policy

import (
	"bytes"
	"maps"
	"regexp"
	"slices"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"

	"backpitch/engine/finding"
	"backpitch/engine/profile"
	"backpitch/engine/quantity"
)

// customKeys are the members of METADATA's custom; those that are true must be
// there.
var customKeys = map[string]bool{
	"level": true, "subject": true, "message": true, "remedy": true, "rationale": true,
	"needs": true, "tables": true, "status": true, "quantity": false, "boundary": false,
}

var (
	placeholder = regexp.MustCompile(`\{([^{}]*)\}`)
	values      = []string{"subject", "measured", "limit", "detail"}
)

// metadata reads the annotation of the package, strictly.
func (c *checker) metadata() {
	var a *ast.Annotations
	for _, found := range c.parsed.Annotations {
		if found.Scope == "package" {
			a = found
		}
	}
	if a == nil {
		c.refuse(c.parsed.Package.Location, "write # METADATA above the package", "the rule has no METADATA")
		return
	}
	c.Title, c.Description = a.Title, strings.TrimSpace(a.Description)
	if c.Title == "" || c.Description == "" {
		c.refuse(a.Location, "", "METADATA has no title or no description")
	}
	if !typed(a) {
		c.refuse(a.Location, "add schemas: - input: schema.facts", "METADATA does not bind input to the facts schema")
	}
	names := slices.Sorted(maps.Keys(customKeys))
	for _, key := range slices.Sorted(maps.Keys(a.Custom)) {
		if _, known := customKeys[key]; !known {
			c.refuse(c.line(key), profile.DidYouMean(key, names), "METADATA: there is no custom %q", key)
		}
	}
	for _, key := range names {
		if _, there := a.Custom[key]; customKeys[key] && !there {
			c.refuse(a.Location, "", "METADATA lacks custom %q", key)
		}
	}
	c.words(a.Custom)
	c.lists(a.Custom)
	c.message()
}

func typed(a *ast.Annotations) bool {
	for _, s := range a.Schemas {
		if s.Path.String() == "input" && s.Schema.String() == "schema.facts" {
			return true
		}
	}
	return false
}

// line finds the line of the METADATA that holds a key.
func (c *checker) line(key string) *ast.Location {
	for i, text := range bytes.Split(c.source, []byte{'\n'}) {
		trimmed := bytes.TrimLeft(bytes.TrimPrefix(text, []byte{'#'}), " ")
		if bytes.HasPrefix(text, []byte{'#'}) && bytes.HasPrefix(trimmed, []byte(key+":")) {
			return &ast.Location{File: c.File, Row: i + 1, Col: len(text) - len(trimmed) + 1}
		}
	}
	return c.parsed.Package.Location
}

func (c *checker) word(custom map[string]any, key string, oneOf ...string) string {
	v, there := custom[key]
	if !there {
		return ""
	}
	s, ok := v.(string)
	if !ok || strings.TrimSpace(s) == "" {
		c.refuse(c.line(key), "", "METADATA: %s is not text", key)
		return ""
	}
	if len(oneOf) > 0 && !slices.Contains(oneOf, s) {
		hint := profile.DidYouMean(s, oneOf)
		if hint == "" {
			hint = "write " + strings.Join(oneOf, ", ")
		}
		c.refuse(c.line(key), hint, "METADATA: %q is no %s", s, key)
	}
	return s
}

func (c *checker) words(custom map[string]any) {
	c.Level = finding.Level(c.word(custom, "level", "error", "warning", "note"))
	c.Subject = c.word(custom, "subject")
	kinds := []string{}
	for _, k := range quantity.Kinds() {
		kinds = append(kinds, string(k))
	}
	c.Quantity = quantity.Kind(c.word(custom, "quantity", kinds...))
	c.Message = c.word(custom, "message")
	c.Remedy = c.word(custom, "remedy")
	c.Rationale = c.word(custom, "rationale")
	c.Status = c.word(custom, "status", "stable", "preview")
	c.NoBoundary = c.word(custom, "boundary", "none") == "none"
}

func (c *checker) list(custom map[string]any, key string) []string {
	v, there := custom[key]
	if !there {
		return nil
	}
	items, ok := v.([]any)
	if !ok {
		c.refuse(c.line(key), "write ["+key+"] or []", "METADATA: %s is not a list", key)
		return nil
	}
	var out []string
	for _, item := range items {
		s, ok := item.(string)
		if !ok || s == "" {
			c.refuse(c.line(key), "", "METADATA: %s holds %v, which is not a name", key, item)
			continue
		}
		if slices.Contains(out, s) {
			c.refuse(c.line(key), "", "METADATA: %s names %q twice", key, s)
		}
		out = append(out, s)
	}
	return out
}

func (c *checker) lists(custom map[string]any) {
	c.Needs = c.list(custom, "needs")
	for _, need := range c.Needs {
		c.fact("needs", need)
	}
	for _, id := range c.list(custom, "tables") {
		if name, optional := strings.CutSuffix(id, "?"); optional {
			c.Optional = append(c.Optional, name)
		} else {
			c.Tables = append(c.Tables, id)
		}
	}
}

// fact checks that the subject can have a fact; of a subject whose group
// cannot be told, that some group has it.
func (c *checker) fact(key, path string) {
	doc := factsSchema()
	if head, rest, dotted := strings.Cut(path, "."); dotted && (head == "building" || head == "project") {
		if doc.root.Properties[head].find(rest) == nil {
			c.refuse(c.line(key), profile.DidYouMean(rest, doc.group(head).names()), "METADATA: %s: there is no fact %q of the %s", key, rest, head)
		}
		return
	}
	if fields := c.fields(); fields != nil {
		if fields.find(path) == nil {
			c.refuse(c.line(key), hintOf(path, fields.names()), "METADATA: %s: there is no fact %q in %s", key, path, c.group)
		}
		return
	}
	for group := range doc.root.Properties {
		if doc.group(group).find(path) != nil {
			return
		}
	}
	c.refuse(c.line(key), "", "METADATA: %s: there is no fact %q", key, path)
}

func hintOf(name string, names []string) string {
	if hint := profile.DidYouMean(name, names); hint != "" {
		return hint
	}
	return "there is " + strings.Join(names, ", ")
}

// message checks the placeholders of message and remedy.
func (c *checker) message() {
	for key, text := range map[string]string{"message": c.Message, "remedy": c.Remedy} {
		for _, m := range placeholder.FindAllStringSubmatch(text, -1) {
			if name, isFact := strings.CutPrefix(m[1], "fact:"); isFact {
				c.fact(key, name)
			} else if !slices.Contains(values, m[1]) {
				c.refuse(c.line(key), "there is {subject}, {measured}, {limit}, {detail} and {fact:name}",
					"METADATA: %s: there is no placeholder %s", key, m[0])
			}
		}
		if open := strings.Count(text, "{"); open != len(placeholder.FindAllString(text, -1)) || open != strings.Count(text, "}") {
			c.refuse(c.line(key), "", "METADATA: %s: a brace is not closed", key)
		}
	}
}
