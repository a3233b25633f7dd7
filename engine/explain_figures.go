package engine

import (
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"sync"

	"backpitch/engine/facts"
	"backpitch/engine/finding"
	"backpitch/engine/profile"
	"backpitch/engine/quantity"
)

// figuresRead are the rows that the rule's tables have for the subject.
func (x *explainer) figuresRead() []finding.FigureRead {
	list := []finding.FigureRead{}
	p := x.reviewer.profile
	for _, id := range slices.Concat(x.rule.Tables, x.rule.Optional) {
		t := p.Table(id)
		if t == nil {
			if f, ok := x.fixtureFigure(id); ok {
				list = append(list, f)
			} else if slices.Contains(x.rule.Tables, id) {
				list = append(list, finding.FigureRead{Table: id, Why: "the profile has no such table, or no row for this subject"})
			}
			continue
		}
		out := finding.FigureRead{Table: id, Title: t.Title}
		if e, ok := x.row(t); ok {
			out.Key, out.Value = plainWords(e.KeyText()), plainWords(t.Text(e, p.Units))
			out.Limit = x.verdict.Limit != nil && reflect.DeepEqual(e.Value, x.verdict.Limit)
			x.cite(&out, e.Cite)
		} else {
			out.Why = "it has no row for this subject, or which one counts cannot be told from the text of the rule"
			for _, f := range x.verdict.RestsOn() {
				if f.Table == id {
					x.cite(&out, f.Cite)
				}
			}
		}
		list = append(list, out)
	}
	x.onlyOne(list)
	return list
}

// onlyOne takes the mark of the limit from figures that happen to be equal: then
// it cannot be told which of them counted.
func (x *explainer) onlyOne(list []finding.FigureRead) {
	n := 0
	for _, f := range list {
		if f.Limit {
			n++
		}
	}
	for i := range list {
		list[i].Limit = list[i].Limit && n == 1
	}
}

func (x *explainer) cite(f *finding.FigureRead, c profile.Cite) {
	f.Section, f.Basis, f.Source, f.Note, f.From = c.Section, c.Basis, x.reviewer.profile.SourceTitle(c.Source), c.Note, c.From
}

// row is the row of a table that counts for the subject: as the text of the rule
// says, else the only one that holds the limit of the verdict.
func (x *explainer) row(t *profile.Table) (profile.Entry, bool) {
	if e, ok := x.look.Row(t, x.fact); ok {
		return e, true
	}
	var found []profile.Entry
	for _, e := range t.Rows() {
		if x.verdict.Limit != nil && reflect.DeepEqual(e.Value, x.verdict.Limit) {
			found = append(found, e)
		}
	}
	if len(found) != 1 {
		return profile.Entry{}, false
	}
	return found[0], true
}

// fixtureFigure is the fixture's row of the profile's fixture table.
func (x *explainer) fixtureFigure(id string) (finding.FigureRead, bool) {
	p := x.reviewer.profile
	class, _ := x.fact("class")
	for _, f := range p.Fixtures {
		if f.Class != class {
			continue
		}
		out := finding.FigureRead{Table: id, Title: "fixture table", Key: f.Class}
		switch {
		case id == profile.FixtureLoad && f.Load != nil:
			out.Value = quantity.Format(p.LoadKind(), *f.Load, p.Units)
		case id == profile.FixtureTrap && f.Trap != nil:
			out.Value = quantity.Format(quantity.Size, *f.Trap, p.Units)
		default:
			return out, false
		}
		x.cite(&out, f.Cite)
		return out, true
	}
	return finding.FigureRead{}, false
}

// schemaNode is what the facts schema says of a fact or a group of them.
type schemaNode struct {
	Description string                 `json:"description"`
	Unit        string                 `json:"unit"`
	Properties  map[string]*schemaNode `json:"properties"`
	Items       *schemaNode            `json:"items"`
}

var factDocs = sync.OnceValue(func() *schemaNode {
	var root schemaNode
	if err := json.Unmarshal(facts.Schema(), &root); err != nil {
		panic("engine: facts schema: " + err.Error())
	}
	return &root
})

// of says in words what a fact of a group is, "" where the group cannot be told.
func (n *schemaNode) of(group, path string) string {
	at := n.Properties[group]
	if strings.HasPrefix(path, "building.") || strings.HasPrefix(path, "project.") {
		at = n
	}
	if at != nil && at.Items != nil {
		at = at.Items
	}
	for part := range strings.SplitSeq(path, ".") {
		if at == nil {
			return ""
		}
		at = at.Properties[part]
	}
	if at == nil {
		return ""
	}
	// The fixed unit is for those who write rules; values here are in words.
	return strings.TrimSuffix(at.Description, fmt.Sprintf(" (%s)", quantity.Units()[quantity.Kind(at.Unit)]))
}
