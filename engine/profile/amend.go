package profile

import (
	"strconv"
	"strings"
)

// keySeparator stands between the parts of a row's key: "3 in | 1/8 in/ft".
const keySeparator = " | "

// ownMembers describe one file and are not merged.
var ownMembers = []string{"$schema", "id", "title", "edition", "authority", "verify", "amends", "sources"}

// inherited are the members that a table gives to those of its rows that lack
// them. This happens before any merge, so that an amended row never borrows
// the basis of the text it departs from.
var inherited = []string{"section", "basis", "source", "note"}

// amend expands each document and merges them, the model first.
func amend(docs []sourceDoc) (*node, Errors) {
	var problems Errors
	var merged *node
	for i := len(docs) - 1; i >= 0; i-- {
		d := docs[i]
		patch := merged != nil
		body := expand(d.root.without(ownMembers...), merged, &problems)
		if !patch {
			merged = body
			continue
		}
		after := merge(merged, body)
		checkChanges(merged, after, body, docs[i+1].id, &problems)
		after = arrayRows(localFirst(merged, after))
		merged = after
	}
	return merged, problems
}

// expand writes a document in its long form: rows as objects that carry their
// own basis, fixtures and rows keyed by name.
// base is what the document amends, nil for none.
func expand(root, base *node, problems *Errors) *node {
	patch := base != nil
	x := expander{patch: patch, problems: problems}
	if tables := root.get("tables"); tables != nil {
		out := *tables
		out.members = nil
		for _, m := range tables.members {
			out.members = append(out.members, member{m.name, x.table("table "+m.name, m.node, base.get("tables").get(m.name))})
		}
		root = root.with("tables", &out)
	}
	if group := root.get("bathroom_group"); group != nil && group.kind == object {
		root = root.with("bathroom_group", x.table("bathroom_group", group, base.get("bathroom_group")))
	}
	if fixtures := root.get("fixtures"); fixtures != nil {
		fixtures = x.rows("fixtures", fixtures, nil)
		root = root.with("fixtures", fixtures)
	}
	if adopts := root.get("adopts"); adopts != nil && patch {
		for _, m := range adopts.members {
			x.needsBasis("adoption "+m.name, m.node, "section", "basis", "source")
		}
	}
	if !patch {
		root = arrayRows(root)
	}
	return root
}

type expander struct {
	patch    bool
	problems *Errors
}

// table moves what the table says of its rows into them. An amendment that
// gives a table another section or basis and no figures speaks of the figures
// of its base: they stay, and are cited anew.
func (x expander) table(name string, t, base *node) *node {
	if t.kind != object {
		return t
	}
	if t.get("rows") == nil && t.get("is") == nil && len(t.members) > len(t.without(inherited...).members) {
		t = t.with("rows", sameKeys(t, base.get("rows")))
		if base.get("is") != nil {
			t = t.without("rows").with("is", &node{kind: object, doc: t.doc, off: t.off})
		}
	}
	if rows := t.get("rows"); rows != nil {
		t = t.with("rows", x.rows(name, rows, t))
	}
	if is := t.get("is"); is != nil && is.kind != null {
		t = t.with("is", x.row(name, is, t))
	}
	return t.without(inherited...)
}

// sameKeys returns an object with the names of rows and nothing in them.
func sameKeys(t, rows *node) *node {
	out := &node{kind: object, doc: t.doc, off: t.off}
	if rows != nil {
		for _, m := range rows.members {
			out.members = append(out.members, member{m.name, &node{kind: object, doc: t.doc, off: t.off}})
		}
	}
	return out
}

func (x expander) rows(name string, rows, t *node) *node {
	out := *rows
	out.items, out.members = nil, nil
	for _, m := range rows.members {
		out.members = append(out.members, member{m.name, x.row(name+", row "+m.name, m.node, t)})
	}
	for _, item := range rows.items {
		out.items = append(out.items, withoutNulls(x.row(name, item, t)))
	}
	return &out
}

// withoutNulls drops null members: a merge leaves the items of an array alone.
func withoutNulls(n *node) *node {
	for _, m := range n.members {
		if m.node.kind == null {
			n = n.without(m.name)
		}
	}
	return n
}

// row gives a row the members it inherits; a bare value is short for a row.
func (x expander) row(name string, row, t *node) *node {
	if row.kind == null {
		return row
	}
	if row.kind != object {
		row = &node{kind: object, members: []member{{"value", row}}, doc: row.doc, off: row.off}
	}
	if t != nil {
		for _, key := range inherited {
			if value := t.get(key); value != nil && row.get(key) == nil {
				row = row.with(key, value)
			}
		}
	}
	if !x.patch {
		return row
	}
	x.needsBasis(name, row, "value", "load", "trap", "section", "basis", "source")
	if row.get("basis") != nil {
		// What the base says beside its own figure does not go with another.
		for _, key := range []string{"section", "note"} {
			if row.get(key) == nil {
				row = row.with(key, &node{kind: null, doc: row.doc, off: row.off})
			}
		}
	}
	return row
}

// needsBasis refuses an amended figure that would keep the basis of the figure
// it replaces.
func (x expander) needsBasis(name string, row *node, figures ...string) {
	changes := false
	for _, f := range figures {
		changes = changes || row.get(f) != nil
	}
	for _, key := range []string{"basis", "source"} {
		if changes && row.get(key) == nil {
			x.problems.add(row.errorf("an amended figure states its own basis and source, beside it or for its table",
				"%s has no %s", name, key))
		}
	}
}

// arrayRows turns rows written as arrays into objects keyed by name. A base is
// keyed before it is amended, so that a patch never drops its rows; an array
// in a patch replaces the rows whole.
func arrayRows(root *node) *node {
	if f := root.get("fixtures"); f != nil && f.kind == array {
		root = root.with("fixtures", keyed(f))
	}
	if g := root.get("bathroom_group"); g.get("rows") != nil && g.get("rows").kind == array {
		root = root.with("bathroom_group", g.with("rows", keyed(g.get("rows"))))
	}
	tables := root.get("tables")
	if tables == nil {
		return root
	}
	for _, m := range tables.members {
		if rows := m.node.get("rows"); rows != nil && rows.kind == array {
			tables = tables.with(m.name, m.node.with("rows", keyed(rows)))
		}
	}
	return root.with("tables", tables)
}

// keyed names each row of an array: by its id, or by its key as written.
func keyed(rows *node) *node {
	out := *rows
	out.kind, out.items = object, nil
	for i, item := range rows.items {
		name := item.str("id")
		if key := item.get("key"); key != nil {
			parts := make([]string, len(key.items))
			for j, part := range key.items {
				parts[j] = part.text
			}
			name = strings.Join(parts, keySeparator)
		}
		if name == "" {
			name = strconv.Itoa(i + 1)
		}
		out.members = append(out.members, member{name, item.without("id", "key")})
	}
	return &out
}

// localFirst moves the fixture rows that an amendment adds before those of its
// base: the first row that fits wins, and a local row is the narrower one.
func localFirst(base, after *node) *node {
	fixtures, old := after.get("fixtures"), base.get("fixtures")
	if fixtures == nil || fixtures.kind != object {
		return after
	}
	out := *fixtures
	out.members = nil
	for _, m := range fixtures.members {
		if old.get(m.name) == nil {
			out.members = append(out.members, m)
		}
	}
	for _, m := range fixtures.members {
		if old.get(m.name) != nil {
			out.members = append(out.members, m)
		}
	}
	return after.with("fixtures", &out)
}
