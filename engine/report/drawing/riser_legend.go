package drawing

import (
	"cmp"
	"slices"
)

// entry is one line of the legend.
type entry struct {
	sample []shape // drawn around 0, 0, to the right
	words  string
}

// legend explains the line styles and signs that occur, in columns.
func (l *layout) legend(s *sheet, y, width float64) float64 {
	entries := append(l.lineEntries(), l.signEntries()...)
	entries = append(entries, l.codeEntries()...)
	const row, size = 21, 11.5
	columns := max(1, int((width-2*sheetMargin)/212))
	step := (width - 2*sheetMargin) / float64(columns)
	head := text(sheetMargin, y, bodyText, start, "Legend")
	head.bold = true
	s.furniture(line(pen{width: 0.6}, point{sheetMargin, y - 18}, point{width - sheetMargin, y - 18}), head)
	rows := (len(entries) + columns - 1) / columns
	for i, e := range entries {
		at := point{sheetMargin + step*float64(i/rows), y + 20 + row*float64(i%rows)}
		shapes := make([]shape, 0, len(e.sample)+1)
		for _, sh := range e.sample {
			shapes = append(shapes, sh.moved(at.x+4, at.y))
		}
		s.furniture(append(shapes, text(at.x+46, at.y+4, size, start, e.words))...)
	}
	return y + 20 + row*float64(rows)
}

func (l *layout) lineEntries() []entry {
	used := map[Service]bool{}
	for _, p := range l.data.Pipes {
		used[p.Service] = true
	}
	var out []entry
	for _, k := range []struct {
		s    Service
		name string
	}{{Drain, "drain, flow with the arrow"}, {Vent, "vent"}, {Pumped, "pumped line"}} {
		if used[k.s] {
			out = append(out, entry{sample: []shape{line(servicePens[k.s], point{0, 0}, point{36, 0})}, words: k.name})
		}
	}
	return out
}

// signEntries explains the signs in the order they first occur by kind name.
func (l *layout) signEntries() []entry {
	kinds := map[string]bool{}
	for _, p := range l.data.Pipes {
		for _, d := range p.Devices {
			kinds[d.Kind] = true
		}
	}
	names := make([]string, 0, len(kinds))
	for k := range kinds {
		names = append(names, k)
	}
	slices.Sort(names)
	var out []entry
	for _, k := range names {
		sample := append([]shape{line(drainPen, point{0, 0}, point{36, 0})}, deviceShapes(k, point{18, 0}, false)...)
		out = append(out, entry{sample: sample, words: words("  ", deviceCode(k), deviceName(k))})
	}
	marked := false
	for _, list := range l.data.Marks {
		marked = marked || len(list) > 0
	}
	if marked {
		out = append(out, entry{sample: []shape{{kind: marking, mark: Mark{Text: "1"}, at: []point{{18, 0}}}}, words: "number of a finding"})
	}
	return out
}

func (l *layout) codeEntries() []entry {
	kinds := map[string]bool{}
	trap := false
	for _, n := range l.data.Nodes {
		if n.Kind == Fixture {
			kinds[n.Fixture] = true
			trap = trap || n.Trap != ""
		}
	}
	names := make([]string, 0, len(kinds))
	for k := range kinds {
		names = append(names, k)
	}
	slices.SortFunc(names, func(a, b string) int {
		return cmp.Or(cmp.Compare(fixtureCode(a), fixtureCode(b)), cmp.Compare(a, b))
	})
	var out []entry
	if trap {
		way := append(append([]point{{36, 0}, {22, 0}}, arc(point{16, 0}, 6, 0, 180)...), point{10, -8})
		out = append(out, entry{sample: []shape{line(drainPen, way...)}, words: "trap"})
	}
	for _, k := range names {
		name := deviceName(k)
		if k == "" {
			name = "fixture"
		}
		code := text(18, 4, captionText, middle, fixtureCode(k))
		code.bold, code.inner = true, true
		out = append(out, entry{sample: append(asBody(rectangle(pen{width: 1.2}, box{3, -8, 33, 8})), code), words: name})
	}
	return out
}
