package profile

import (
	"maps"
	"slices"
	"strings"

	"backpitch/engine/quantity"
)

// Said is one thing a profile says, with where it comes from.
type Said struct {
	Path  string // basin.min_depth; drain.min_slope, 2 in; drain/too_flat
	Value string
	Cite
}

// At returns what the profile says at a path: a table, one of its rows (the
// table's id, then the key), an adopted rule, fixtures.CLASS,
// bathroom_group.CLASS, sources.KEY, method, or a word of the head such as
// units. It is empty where the profile says nothing there.
func (p *Profile) At(path string) []Said {
	if a, ok := p.Adopts[path]; ok {
		value := "adopted"
		if a.Level != "" {
			value += " as " + string(a.Level)
		}
		return []Said{{path, value, a.Cite}}
	}
	group, name, _ := strings.Cut(path, ".")
	switch group {
	case "fixtures":
		return p.fixturesAt(name)
	case "bathroom_group":
		return p.groupsAt(name)
	case "sources":
		if s, ok := p.Sources[name]; ok {
			return []Said{{path, s.Title, Cite{Note: strings.TrimPrefix(s.URL+"; "+s.Note, "; "), From: s.From}}}
		}
		return nil
	}
	if value, ok := p.head()[path]; ok {
		return []Said{{path, value, Cite{From: p.ID}}}
	}
	return p.tableAt(path)
}

func (p *Profile) head() map[string]string {
	units := "US"
	if p.Units == quantity.SI {
		units = "SI"
	}
	return map[string]string{"id": p.ID, "title": p.Title, "edition": p.Edition, "authority": p.Authority,
		"units": units, "verify": p.Verify, "amends": p.Amends, "method": p.Method.Load, "method.flow_curve": p.Method.FlowCurve}
}

func (p *Profile) fixturesAt(class string) []Said {
	var out []Said
	for _, f := range p.Fixtures {
		if class == "" || f.Class == class {
			out = append(out, Said{"fixtures." + f.Class, f.Text(p), f.Cite})
		}
	}
	return out
}

func (p *Profile) groupsAt(class string) []Said {
	var out []Said
	for _, g := range p.Groups {
		if class == "" || g.Class == class {
			out = append(out, Said{"bathroom_group." + g.Class, g.Text(p), g.Cite})
		}
	}
	return out
}

// tableAt finds the longest table id that the path begins with; what follows is
// a key.
func (p *Profile) tableAt(path string) []Said {
	best := ""
	for _, id := range p.Tables() {
		rest, ok := strings.CutPrefix(path, id)
		if ok && len(id) > len(best) && (rest == "" || strings.ContainsAny(rest[:1], " .,|/[")) {
			best = id
		}
	}
	if best == "" {
		return nil
	}
	key := rowName(strings.Trim(path[len(best):], " .,|/[]"))
	t := p.tables[best]
	var out []Said
	for _, e := range t.rows {
		if name := rowName(e.KeyText()); key == "" || key == name {
			out = append(out, Said{strings.TrimSuffix(best+", "+e.KeyText(), ", "), t.Text(e, p.Units), e.Cite})
		}
	}
	return out
}

// rowName lets people part a key with comma or bar.
func rowName(key string) string {
	parts := strings.FieldsFunc(key, func(r rune) bool { return r == ',' || r == '|' })
	for i := range parts {
		parts[i] = strings.Join(strings.Fields(parts[i]), " ")
	}
	return strings.Join(parts, ", ")
}

// Paths lists what At can be asked for, without the rows of tables.
func (p *Profile) Paths() []string {
	out := append(p.Tables(), p.Rules()...)
	for _, f := range p.Fixtures {
		out = append(out, "fixtures."+f.Class)
	}
	for _, g := range p.Groups {
		out = append(out, "bathroom_group."+g.Class)
	}
	for key := range p.Sources {
		out = append(out, "sources."+key)
	}
	out = append(out, slices.Collect(maps.Keys(p.head()))...)
	slices.Sort(out)
	return out
}
