package rulebook

import (
	"fmt"
	"slices"
	"strings"

	"github.com/tailscale/hujson"
)

// tree is a JSON value whose members keep their order.
type tree struct {
	text    string   // of anything but an object or a list
	names   []string // of an object
	members []*tree  // of an object or a list
	kind    byte     // '{', '[' or 0
	left    bool     // members were left out
}

// parseTree reads a design; the examples are of designs that are sound JSON.
func parseTree(data []byte) (*tree, error) {
	v, err := hujson.Parse(data)
	if err != nil {
		return nil, fmt.Errorf("reading a design: %w", err)
	}
	return treeOf(v), nil
}

func treeOf(v hujson.Value) *tree {
	switch x := v.Value.(type) {
	case *hujson.Object:
		t := &tree{kind: '{'}
		for _, m := range x.Members {
			t.names = append(t.names, m.Name.Value.(hujson.Literal).String())
			t.members = append(t.members, treeOf(m.Value))
		}
		return t
	case *hujson.Array:
		t := &tree{kind: '['}
		for _, e := range x.Elements {
			t.members = append(t.members, treeOf(e))
		}
		return t
	}
	return &tree{text: string(v.Value.(hujson.Literal))}
}

// get returns a member of an object, nil where there is none.
func (t *tree) get(name string) *tree {
	if t == nil || t.kind != '{' {
		return nil
	}
	if i := slices.Index(t.names, name); i >= 0 {
		return t.members[i]
	}
	return nil
}

// id is the id of an element, "" where it has none.
func (t *tree) id() string {
	if v := t.get("id"); v != nil {
		return strings.Trim(v.text, `"`)
	}
	return ""
}

// String prints the value on one line.
func (t *tree) String() string {
	var parts []string
	for i, m := range t.members {
		if t.kind == '{' {
			parts = append(parts, fmt.Sprintf("%q: %s", t.names[i], m))
		} else {
			parts = append(parts, m.String())
		}
	}
	if t.left {
		parts = append(parts, "…")
	}
	switch t.kind {
	case '{':
		return "{ " + strings.Join(parts, ", ") + " }"
	case '[':
		return "[" + strings.Join(parts, ", ") + "]"
	}
	return t.text
}

// wide is the longest line that an excerpt prints before it is broken up.
const wide = 64

// lines prints the value over several lines where one would be too long.
func (t *tree) lines(indent string) string {
	text := t.String()
	if len(text)+len(indent) <= wide || t.kind == 0 {
		return text
	}
	var b strings.Builder
	b.WriteByte(t.kind)
	inner := indent + "  "
	for i, m := range t.members {
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteString("\n" + inner)
		if t.kind == '{' {
			fmt.Fprintf(&b, "%q: ", t.names[i])
		}
		b.WriteString(m.lines(inner))
	}
	if t.left {
		b.WriteString(",\n" + inner + "…")
	}
	b.WriteString("\n" + indent + string(t.kind+2)) // '{' and '}', '[' and ']'
	return b.String()
}

// identity are the members that say what an element is; an excerpt keeps them.
var identity = []string{"id", "kind", "service", "fitting", "size", "type"}

// changed returns what two values that stand at the same place differ in, cut
// down to that and to what says what they are; false where they are the same.
func changed(before, after *tree) (b, a *tree, differ bool) {
	switch {
	case before == nil || after == nil:
		return brief(before), brief(after), before != after
	case before.String() == after.String():
		return nil, nil, false
	case before.kind == '{' && after.kind == '{':
		b, a = &tree{kind: '{'}, &tree{kind: '{'}
		both := slices.Clone(before.names)
		for _, name := range after.names {
			if !slices.Contains(both, name) {
				both = append(both, name)
			}
		}
		for _, name := range both {
			x, y := before.get(name), after.get(name)
			cutX, cutY, differs := changed(x, y)
			if !differs {
				if !slices.Contains(identity, name) || x.kind != 0 {
					b.left, a.left = true, true
					continue
				}
				cutX, cutY = x, y
			}
			b.take(name, cutX)
			a.take(name, cutY)
		}
		return b, a, true
	case before.kind == '[' && after.kind == '[' && named(before) && named(after):
		b, a = changedElements(before, after)
		return b, a, true
	}
	return before, after, true
}

func (t *tree) take(name string, v *tree) {
	if v != nil {
		t.names, t.members = append(t.names, name), append(t.members, v)
	}
}

// named reports whether every element of a list has an id.
func named(list *tree) bool {
	return !slices.ContainsFunc(list.members, func(e *tree) bool { return e.id() == "" })
}

// changedElements compares two lists element by element. Where only the order
// differs every element stays, cut down to its name.
func changedElements(before, after *tree) (b, a *tree) {
	b, a = &tree{kind: '['}, &tree{kind: '['}
	old := map[string]*tree{}
	for _, e := range before.members {
		old[e.id()] = e
	}
	seen := map[string]bool{}
	for _, e := range after.members {
		seen[e.id()] = true
		x, y, differs := changed(old[e.id()], e)
		if !differs {
			continue
		}
		if x != nil {
			b.members = append(b.members, x)
		}
		a.members = append(a.members, y)
	}
	for _, e := range before.members {
		if !seen[e.id()] {
			b.members = append(b.members, brief(e))
		}
	}
	if len(b.members) == 0 && len(a.members) == 0 {
		for _, e := range before.members {
			b.members = append(b.members, nameOf(e))
		}
		for _, e := range after.members {
			a.members = append(a.members, nameOf(e))
		}
		return b, a
	}
	b.left, a.left = len(b.members) < len(before.members), len(a.members) < len(after.members)
	return b, a
}

func nameOf(e *tree) *tree {
	out := &tree{kind: '{', left: true}
	for i, name := range e.names {
		if slices.Contains(identity, name) && e.members[i].kind == 0 {
			out.take(name, e.members[i])
		}
	}
	return out
}

// brief cuts an element that has no counterpart down to its plain members.
func brief(e *tree) *tree {
	if e == nil || e.kind != '{' {
		return e
	}
	out := &tree{kind: '{', left: e.left}
	for i, name := range e.names {
		if e.members[i].kind == 0 || len(e.String()) <= 2*wide {
			out.take(name, e.members[i])
		} else {
			out.left = true
		}
	}
	return out
}
