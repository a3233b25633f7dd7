package profile

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"backpitch/engine/finding"
	"backpitch/engine/quantity"
)

// builder turns the merged document into a Profile and gathers what is wrong.
type builder struct {
	p        *Profile
	problems Errors
}

func build(docs []sourceDoc, merged *node, rules []string) (*Profile, error) {
	b := &builder{p: &Profile{Sources: map[string]Source{}, Adopts: map[string]Adoption{}, tables: map[string]*Table{}}}
	b.head(docs, merged)
	b.method(merged.get("method"))
	if f := merged.get("fixtures"); f != nil {
		b.fixtures(f)
	}
	b.groups(merged.get("bathroom_group").get("rows"))
	if tables := merged.get("tables"); tables != nil {
		for _, m := range tables.members {
			b.table(m.name, m.node)
		}
	}
	if adopts := merged.get("adopts"); adopts != nil {
		for _, m := range adopts.members {
			b.adoption(m.name, m.node, rules)
		}
	}
	b.flowCurve(merged.get("method"))
	b.data(merged)
	if err := b.problems.sorted(); err != nil {
		return nil, err
	}
	return b.p, nil
}

func (b *builder) refuse(n *node, hint, format string, args ...any) {
	b.problems.add(n.errorf(hint, format, args...))
}

// head reads what each file says of itself: the first one speaks for the
// profile, every one brings its sources.
func (b *builder) head(docs []sourceDoc, merged *node) {
	own := docs[0].root
	b.p.ID, b.p.Title, b.p.Edition = own.str("id"), own.str("title"), own.str("edition")
	b.p.Authority, b.p.Verify, b.p.Amends = own.str("authority"), own.str("verify"), own.str("amends")
	switch merged.str("units") {
	case "US":
		b.p.Units = quantity.US
	case "SI":
		b.p.Units = quantity.SI
	default:
		b.refuse(own, `add "units": "US" or "SI"`, "the profile lacks %q", "units")
	}
	for _, d := range docs {
		b.p.Chain = append(b.p.Chain, d.id)
		sources := d.root.get("sources")
		if sources == nil {
			continue
		}
		for _, m := range sources.members {
			s := Source{m.node.str("title"), m.node.str("url"), m.node.str("note"), m.node.str("read"), d.id}
			if old, taken := b.p.Sources[m.name]; taken {
				s.From = old.From
				if s != old {
					b.refuse(m.node, "give one of the two another key", "source %q is another text in profile %q", m.name, old.From)
				}
				continue
			}
			b.p.Sources[m.name] = s
		}
	}
}

// cite reads basis and source and counts the figure.
func (b *builder) cite(name string, n *node) Cite {
	c := Cite{Section: n.str("section"), Basis: finding.Basis(n.str("basis")), Source: n.str("source"), Note: n.str("note"), From: n.doc.id}
	if c.Basis == "" {
		b.refuse(n, `write "checked", "from memory" or "common practice"`, "%s has no basis", name)
	}
	switch _, known := b.p.Sources[c.Source]; {
	case c.Source == "":
		b.refuse(n, "", "%s has no source", name)
	case !known:
		at := n
		if s := n.get("source"); s != nil {
			at = s
		}
		b.refuse(at, DidYouMean(c.Source, slices.Collect(maps.Keys(b.p.Sources))), "%s: there is no source %q", name, c.Source)
	}
	count(&b.p.counts, c.Basis)
	return c
}

func (b *builder) adoption(id string, n *node, rules []string) {
	if !slices.Contains(rules, id) {
		b.refuse(n, DidYouMean(id, rules), "the adopted rule %q does not exist", id)
	}
	if n.str("section") == "" {
		b.refuse(n, "a rule is adopted by citing its section", "adoption %s has no section", id)
	}
	b.p.Adopts[id] = Adoption{Cite: b.cite("adoption "+id, n), Level: finding.Level(n.str("level"))}
}

func (b *builder) method(n *node) {
	m := Method{Load: n.str("load"), FlowCurve: n.str("flow_curve"), Friction: n.str("friction"), Gravity: n.str("gravity"), K: map[string]int64{}}
	if n != nil {
		m.Cite = Cite{Section: n.str("section"), Basis: finding.Basis(n.str("basis")), Source: n.str("source"), Note: n.str("note"), From: n.doc.id}
	}
	if k := n.get("k"); k != nil {
		for _, u := range k.members {
			if v, ok := b.quantity("method, k, "+u.name, quantity.Factor, u.node); ok {
				m.K[u.name] = v
			}
		}
	}
	b.p.Method = m
}

// flowCurve checks that the curve is a table that turns loads into flows.
func (b *builder) flowCurve(method *node) {
	id := b.p.Method.FlowCurve
	if id == "" {
		return
	}
	t := b.p.tables[id]
	switch {
	case t == nil:
		b.refuse(method.get("flow_curve"), DidYouMean(id, b.p.Tables()), "the flow curve %q is no table of the profile", id)
	case t.Value != quantity.Flow || len(t.Keys) != 1 || !isLoad(t.Keys[0]):
		b.refuse(method.get("flow_curve"), "its keys are load and its values flow", "table %s is no flow curve", id)
	}
}

func isLoad(k quantity.Kind) bool { return k == quantity.Load || k == quantity.DischargeUnit }

// quantity reads one value in the fixed unit of its kind.
func (b *builder) quantity(name string, kind quantity.Kind, n *node) (int64, bool) {
	if n.kind != text && (n.kind != number || !bare(kind)) {
		b.refuse(n, "", "%s: %s is not a quantity in quotes", name, n.literal())
		return 0, false
	}
	v, err := quantity.ParseLimit(kind, n.text)
	if err != nil {
		hint := ""
		if pe, ok := err.(*quantity.ParseError); ok {
			hint = pe.Hint
		}
		b.refuse(n, hint, "%s: %s", name, err)
		return 0, false
	}
	return v, true
}

// bare kinds are written without a unit, so a JSON number will do.
func bare(k quantity.Kind) bool { return k == quantity.Factor || k == quantity.Count }

// load reads a load in the units of the profile's method.
func (b *builder) load(name string, n *node) (int64, bool) {
	kind := quantity.Load
	if b.p.Method.Load == "discharge_units" {
		kind = quantity.DischargeUnit
	}
	return b.quantity(name, kind, n)
}

func (b *builder) optional(name string, kind quantity.Kind, n *node) *int64 {
	if n == nil {
		return nil
	}
	if v, ok := b.quantity(name, kind, n); ok {
		return &v
	}
	return nil
}

func (b *builder) fixtures(n *node) {
	for _, m := range n.members {
		name, row := "fixture "+m.name, m.node
		f := Fixture{Class: m.name, Kind: row.str("kind"), Use: row.str("use"), FlushType: row.str("flush_type"),
			Flush:  b.optional(name, quantity.Volume, row.get("flush_at_most")),
			Flow:   b.optional(name, quantity.Flow, row.get("flow_at_most")),
			TrapAt: b.optional(name, quantity.Size, row.get("trap_at_most")),
			Trap:   b.optional(name, quantity.Size, row.get("trap")),
			Cite:   b.cite(name, row)}
		if e := row.get("emergency"); e != nil {
			f.Emergency = &e.flag
		}
		if a := row.get("assume"); a != nil {
			f.Assume = a.flag
		}
		if l := row.get("load"); l != nil {
			if v, ok := b.load(name, l); ok {
				f.Load = &v
			}
		}
		if f.Kind == "" {
			b.refuse(row, "", "%s has no kind", name)
		}
		for _, earlier := range b.p.Fixtures {
			if earlier.Class == f.Class {
				b.refuse(row, "", "fixture %s stands here twice", f.Class)
			} else if earlier.covers(f) {
				b.refuse(row, "the first row that fits counts: put the narrower one first",
					"%s is never reached: every fixture that fits it fits %s before it", name, earlier.Class)
			}
		}
		b.p.Fixtures = append(b.p.Fixtures, f)
	}
}

func (b *builder) groups(rows *node) {
	if rows == nil {
		return
	}
	for _, m := range rows.members {
		name := "bathroom_group, row " + m.name
		g := Group{Class: m.name, Flush: b.optional(name, quantity.Volume, m.node.get("flush_at_most")), Cite: b.cite(name, m.node)}
		load := m.node.get("load")
		if load == nil {
			b.refuse(m.node, "", "%s has no load", name)
			continue
		}
		g.Load, _ = b.load(name, load)
		b.p.Groups = append(b.p.Groups, g)
	}
}

// data lays the tables out for rules: data.profile.drain.min_slope["DN 50"].
func (b *builder) data(merged *node) {
	data, clash := b.p.layOut()
	if clash != "" {
		id, _, _ := strings.Cut(clash, ":")
		at := merged.get("tables").get(id)
		if at == nil {
			at = merged
		}
		b.refuse(at, "", "table %s", clash)
	}
	b.p.data = data
}

// layOut makes the tree that rules read; it returns the table that cannot be
// placed and why.
func (p *Profile) layOut() (root map[string]any, clash string) {
	root = map[string]any{"id": p.ID}
	for _, id := range p.Tables() {
		if err := place(root, strings.Split(id, "."), p.tables[id].root.data()); err != "" && clash == "" {
			clash = id + ": " + err
		}
	}
	load, trap := map[string]any{}, map[string]any{}
	for _, f := range p.Fixtures {
		if f.Load != nil {
			load[f.Class] = *f.Load
		}
		if f.Trap != nil {
			trap[f.Class] = *f.Trap
		}
	}
	for name, column := range map[string]map[string]any{"load": load, "trap_min": trap} {
		if err := place(root, []string{"fixture", name}, column); err != "" && clash == "" {
			clash = "fixture." + name + ": the name belongs to the fixture table"
		}
	}
	return root, clash
}

// place puts a value at a path; it returns why it cannot.
func place(root map[string]any, path []string, value any) string {
	for _, part := range path[:len(path)-1] {
		next, ok := root[part].(map[string]any)
		if !ok {
			if root[part] != nil {
				return fmt.Sprintf("%q is a table itself", part)
			}
			next = map[string]any{}
			root[part] = next
		}
		root = next
	}
	last := path[len(path)-1]
	if root[last] != nil {
		return fmt.Sprintf("%q is taken by another table", last)
	}
	root[last] = value
	return ""
}
