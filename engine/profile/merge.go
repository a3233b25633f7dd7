package profile

// merge applies a merge patch as RFC 7396, section 2, describes it. Members of
// the base keep their order, new ones follow in the order of the patch. What
// the patch touched belongs to the patch's document, the rest to the base's.
func merge(base, patch *node) *node {
	if patch.kind != object {
		return patch
	}
	out := &node{kind: object, doc: patch.doc, off: patch.off}
	if base == nil || base.kind != object {
		base = &node{kind: object}
	}
	for _, m := range base.members {
		change := patch.get(m.name)
		switch {
		case change == nil:
			out.members = append(out.members, m)
		case change.kind != null:
			out.members = append(out.members, member{m.name, merge(m.node, change)})
		}
	}
	for _, m := range patch.members {
		if base.get(m.name) == nil && m.node.kind != null {
			out.members = append(out.members, member{m.name, merge(nil, m.node)})
		}
	}
	return out
}
