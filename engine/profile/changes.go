package profile

// checkChanges refuses every entry of an amendment that leaves its base as it
// was: it would be cited as local law and is not.
func checkChanges(base, after, patch *node, baseID string, problems *Errors) {
	c := changes{base: baseID, problems: problems}
	if len(patch.members) == 0 {
		problems.add(patch.errorf("", "the profile amends %q and changes nothing", baseID))
		return
	}
	for _, m := range patch.members {
		old, now := base.get(m.name), after.get(m.name)
		switch m.name {
		case "tables":
			for _, t := range m.node.members {
				c.table("table "+t.name, old.get(t.name), now.get(t.name), t.node, old)
			}
		case "bathroom_group":
			c.table(m.name, old, now, m.node, base)
		case "fixtures", "adopts":
			c.entries(m.name, old, now, m.node)
		default:
			c.entry(m.name, old, now, m.node, base)
		}
	}
}

type changes struct {
	base     string
	problems *Errors
}

func (c changes) table(name string, old, now, patch, siblings *node) {
	rows := patch.get("rows")
	if old == nil || rows == nil || rows.kind != object {
		c.entry(name, old, now, patch, siblings)
		return
	}
	c.entries(name, old.get("rows"), now.get("rows"), rows)
}

func (c changes) entries(name string, old, now, patch *node) {
	if patch.kind != object || len(patch.members) == 0 {
		c.entry(name, old, now, patch, nil)
		return
	}
	for _, m := range patch.members {
		c.entry(name+", "+m.name, old.get(m.name), now.get(m.name), m.node, old)
	}
}

func (c changes) entry(name string, old, now, patch, siblings *node) {
	if !same(old, now) {
		return
	}
	if patch.kind == null {
		hint := ""
		if siblings != nil {
			hint = DidYouMean(lastPart(name), siblings.names())
		}
		c.problems.add(patch.errorf(hint, "%s: the amendment drops what %q does not have", name, c.base))
		return
	}
	c.problems.add(patch.errorf("leave out what does not change", "%s: the amendment changes nothing, %q says the same", name, c.base))
}

func (n *node) names() []string {
	out := make([]string, len(n.members))
	for i, m := range n.members {
		out[i] = m.name
	}
	return out
}

func lastPart(name string) string {
	for i := len(name) - 1; i > 0; i-- {
		if name[i-1] == ',' && name[i] == ' ' {
			return name[i+1:]
		}
	}
	return name
}
