package profile

import (
	"slices"
	"strings"

	"backpitch/engine/quantity"
)

func (b *builder) table(id string, n *node) {
	t := &Table{ID: id, Title: n.str("title"), Value: quantity.Kind(n.str("value")), root: &level{}}
	name := "table " + id
	if t.Value == "" {
		b.refuse(n, "", "%s does not say what kind its values are", name)
		return
	}
	if keys := n.get("keys"); keys != nil {
		for _, k := range keys.items {
			t.Keys = append(t.Keys, quantity.Kind(k.text))
		}
	}
	is, rows := n.get("is"), n.get("rows")
	switch {
	case len(t.Keys) == 0 && rows != nil:
		b.refuse(rows, `add "keys", or write "is" for one value`, "%s has rows and no keys", name)
	case len(t.Keys) == 0 && is == nil:
		b.refuse(n, "", "%s has neither rows nor a value", name)
	case len(t.Keys) == 0:
		b.row(t, name, nil, nil, is)
	case is != nil:
		b.refuse(is, `write "rows", or leave out "keys"`, "%s has keys and one value", name)
	case rows == nil || len(rows.members) == 0:
		b.refuse(n, "", "%s has no rows", name)
	default:
		b.rows(t, name, rows)
	}
	if len(b.problems) == 0 || t.rows != nil {
		b.p.tables[id] = t
	}
}

func (b *builder) rows(t *Table, name string, rows *node) {
	for _, m := range rows.members {
		written := strings.Split(m.name, strings.TrimSpace(keySeparator))
		for i := range written {
			written[i] = strings.TrimSpace(written[i])
		}
		where := name + ", row " + m.name
		if len(written) != len(t.Keys) {
			b.refuse(m.node, "parts of a key are joined by \" | \"", "%s has a key of %d parts; the table has %d keys", where, len(written), len(t.Keys))
			continue
		}
		if key, ok := b.key(t, where, written, m.node); ok {
			b.row(t, where, key, written, m.node)
		}
	}
}

func (b *builder) key(t *Table, where string, written []string, row *node) ([]any, bool) {
	key := make([]any, len(written))
	for i, part := range written {
		kind := t.Keys[i]
		if kind == Word {
			key[i] = part
			continue
		}
		n := &node{kind: text, text: part, doc: row.doc, off: row.off}
		v, ok := b.quantity(where, kind, n)
		if !ok {
			return nil, false
		}
		key[i] = v
		if kind == quantity.Size {
			key[i] = quantity.SizeKey(v)
		}
	}
	return key, true
}

func (b *builder) row(t *Table, where string, key []any, written []string, n *node) {
	e := Entry{Key: written, Cite: b.cite(where, n)}
	value := n.get("value")
	if value == nil {
		b.refuse(n, "", "%s has no value", where)
		return
	}
	v, ok := b.value(where, t.Value, value)
	if !ok {
		return
	}
	e.Value = v
	if !t.add(key, e) {
		b.refuse(n, "write the key as the other row does", "%s: another row has the same key in other words, %q", where, t.writtenAs(key))
	}
}

// writtenAs returns how the row with that key is written.
func (t *Table) writtenAs(key []any) string {
	at := t.root
	for _, part := range key {
		at = at.child(part)
	}
	return strings.Join(at.entry.Key, keySeparator)
}

func (b *builder) value(where string, kind quantity.Kind, n *node) (any, bool) {
	switch kind {
	case Flag:
		if n.kind == boolean {
			return n.flag, true
		}
	case Word:
		if n.kind == text {
			return n.text, true
		}
	case Words:
		if n.kind == array {
			words := make([]string, len(n.items))
			for i, item := range n.items {
				words[i] = item.text
			}
			if slices.Contains(words, "") {
				b.refuse(n, "", "%s: a word is missing from the list", where)
				return nil, false
			}
			return words, true
		}
	case Number:
		// A whole number; package quantity's kind of that name has fractions.
		if n.kind == number || n.kind == text {
			n = &node{kind: text, text: n.text, doc: n.doc, off: n.off}
			return b.whole(where, n)
		}
	default:
		return b.quantity(where, kind, n)
	}
	b.refuse(n, "", "%s: %s is not a %s", where, n.literal(), kind)
	return nil, false
}

func (b *builder) whole(where string, n *node) (any, bool) {
	v, err := quantity.ParseLimit(quantity.Count, n.text)
	if err != nil {
		b.refuse(n, "", "%s: %q is not a whole number", where, n.text)
		return nil, false
	}
	return v, true
}
