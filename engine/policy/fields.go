package policy

import (
	"encoding/json"
	"maps"
	"slices"
	"strings"
	"sync"

	"github.com/open-policy-agent/opa/v1/ast"

	"backpitch/engine/quantity"
	"backpitch/schema"
)

// property is what the facts schema says of one fact or group.
type property struct {
	Type       string               `json:"type"`
	Unit       quantity.Kind        `json:"unit"`
	Items      *property            `json:"items"`
	Properties map[string]*property `json:"properties"`
	Required   []string             `json:"required"`
}

// schemaDoc is the facts schema, for our own questions.
type schemaDoc struct {
	root property
}

// factsText is the text that a test of package facts holds to its types, which
// take longer to write it.
func factsText() []byte {
	text, err := schema.Raw("facts")
	if err != nil {
		panic("policy: " + err.Error())
	}
	return text
}

var factsSchema = sync.OnceValue(func() schemaDoc {
	var doc schemaDoc
	if err := json.Unmarshal(factsText(), &doc.root); err != nil {
		panic("policy: facts schema: " + err.Error())
	}
	return doc
})

// factsTypes is the facts schema as OPA checks types with it.
var factsTypes = sync.OnceValue(func() *ast.SchemaSet {
	var raw any
	if err := json.Unmarshal(factsText(), &raw); err != nil {
		panic("policy: facts schema: " + err.Error())
	}
	set := ast.NewSchemaSet()
	set.Put(ast.MustParseRef("schema.facts"), raw)
	return set
})

// group returns what an element of a group of facts holds; for project and
// building, the thing itself.
func (d schemaDoc) group(name string) *property {
	p := d.root.Properties[name]
	if p != nil && p.Items != nil {
		return p.Items
	}
	return p
}

// find follows a dotted path, nil where it leads nowhere.
func (p *property) find(path string) *property {
	for part := range strings.SplitSeq(path, ".") {
		if p == nil {
			return nil
		}
		p = p.Properties[part]
	}
	return p
}

func (p *property) names() []string { return slices.Sorted(maps.Keys(p.Properties)) }

// requires reports whether a fact of that name is always there.
func (p *property) requires(name string) bool { return slices.Contains(p.Required, name) }
