package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

const (
	sheetMargin = 16
	leastWidth  = 460
)

// draw lays the riser out, aligns storeys, and returns its sheet and size.
func (l *layout) draw() (*sheet, float64, float64) {
	l.target = map[int]float64{}
	var b *block
	for pass := 0; pass < 12; pass++ {
		l.reached, l.spoiled = map[int]float64{}, map[int]bool{}
		clear(l.drawn)
		b = l.all()
		again := false
		for s, y := range l.reached {
			if l.spoiled[s] && l.target[s] != y {
				again = true
			}
			l.target[s] = math.Min(l.target[s], y)
		}
		if !again {
			break
		}
	}
	return l.sheet(b)
}

// all places the trees side by side, joins what is left of the vents and leads
// them through the roof.
func (l *layout) all() *block {
	b := &block{}
	x := 0.0
	for _, r := range l.roots {
		o := l.root(r)
		b.put(o, x-o.room.x0, 0)
		x += o.room.x1 - o.room.x0 + 28
	}
	l.realise(b, false)
	for range l.data.Nodes {
		before := len(b.ports)
		l.realiseOne(b)
		l.realise(b, false)
		if len(b.ports) == before {
			break
		}
	}
	l.roof(b)
	return b
}

// realiseOne joins by force where vents wait for one that never comes.
func (l *layout) realiseOne(b *block) {
	for _, p := range b.ports {
		if p.pipe < 0 || terminal(l.data.Nodes[p.node].Kind) {
			continue
		}
		var group []*port
		for _, q := range b.ports {
			if q.node == p.node {
				group = append(group, q)
			}
		}
		b.ports = slices.DeleteFunc(b.ports, func(q *port) bool { return slices.Contains(group, q) })
		l.join(b, group[0].node, group)
		return
	}
}

// root draws where drainage leaves, and everything behind it.
func (l *layout) root(n int) *block {
	node := l.data.Nodes[n]
	if node.Kind == Basin {
		return l.basin(n, -1)
	}
	b := &block{}
	in := l.inflowOf(n)
	b.add(l.leaving(n))
	diagonal := len(in.branches) > 0
	right := l.ascend(b, n, in)
	l.startVent(b, n, point{0, 0}, right, diagonal)
	l.realise(b, false)
	return b
}

// leaving is the sign of a connection: the existing drain, or an open end.
func (l *layout) leaving(n int) element {
	node := l.data.Nodes[n]
	e := element{id: node.ID, ends: [2]string{node.ID, node.ID}, title: words(" ", string(node.Kind), node.ID)}
	lines := append([]string{node.name()}, node.Notes...)
	if node.Kind != Connection {
		e.shapes = asBody(circle(pen{width: 1.4}, point{5, 0}, 5))
		lines = append(lines, "ends here")
	} else {
		e.shapes = asBody(rectangle(pen{width: 1.4}, box{0, -5, 66, 5}))
		e.shapes = append(e.shapes, closed(pen{fill: "ink"}, point{28, -3}, point{40, 0}, point{28, 3}))
		for i := range e.shapes {
			e.shapes[i].body = true
		}
	}
	y := 18.0
	for _, t := range lines {
		e.shapes = append(e.shapes, text(2, y, captionText, start, shorten(t, 34)))
		y += 12.5
	}
	marks, _ := l.data.marks(node.ID, 2, y)
	e.shapes = append(e.shapes, marks...)
	return e
}

// roof leads every vent that is left up to its terminal.
func (l *layout) roof(b *block) {
	ports := b.ports
	b.ports = nil
	slices.SortStableFunc(ports, func(a, c *port) int { return cmp.Compare(a.at().x, c.at().x) })
	row := b.room.y0
	through := false
	for _, p := range ports {
		row = math.Min(row, p.clear)
		through = through || l.data.Nodes[p.node].Kind == RoofVent
	}
	if len(ports) == 0 {
		return
	}
	roof := row - 14
	end := roof - 20
	turned := l.crowded(ports)
	for _, p := range ports {
		p.path = append(p.path, point{p.at().x, end})
		l.drawVent(b, p, false)
		b.add(l.terminal(p.node, point{p.at().x, end}, turned))
	}
	if through {
		l.roofLine(b, ports, roof)
	}
}

// crowded reports whether the captions of terminals need to be turned.
func (l *layout) crowded(ports []*port) bool {
	last := math.Inf(-1)
	for _, p := range ports {
		w := l.data.marksWidth(l.data.Nodes[p.node].ID)
		for _, t := range append([]string{l.data.Nodes[p.node].name()}, l.data.Nodes[p.node].Notes...) {
			w = math.Max(w, textWidth(shorten(t, 24), captionText, false))
		}
		if p.at().x-w/2 < last+4 {
			return true
		}
		last = p.at().x + w/2
	}
	return false
}

// roofLine draws the roof, open where a vent passes.
func (l *layout) roofLine(b *block, ports []*port, y float64) {
	x0, x1 := math.Min(b.room.x0, ports[0].at().x-30), math.Max(b.room.x1, ports[len(ports)-1].at().x+30)
	e := element{title: "roof"}
	from := x0
	for _, p := range ports {
		if p.at().x-5 > from {
			e.shapes = append(e.shapes, line(pen{width: 2.6}, point{from, y}, point{p.at().x - 5, y}))
		}
		from = p.at().x + 5
	}
	e.shapes = append(e.shapes, line(pen{width: 2.6}, point{from, y}, point{x1, y}),
		text(x0-6, y+4, captionText, end, "roof"))
	b.add(e)
}

// sheet moves the layout onto paper and adds storeys, legend and notes.
func (l *layout) sheet(b *block) (*sheet, float64, float64) {
	s := &sheet{}
	l.storeyMarks(b)
	dx, dy := sheetMargin-b.room.x0, sheetMargin-b.room.y0
	b.flatten(dx, dy, s.add)
	s.openCrossings()
	for i := range l.drawn {
		if !l.drawn[i] {
			l.loose = append(l.loose, i)
		}
	}
	if l.data.Desc == "" {
		l.data.Desc = l.describe()
	}
	s.frame = l.data.Frame
	width := math.Max(leastWidth, b.room.x1-b.room.x0+2*sheetMargin)
	y := l.legend(s, b.room.y1+dy+24, width)
	y = l.looseNotes(s, y, width)
	return s, width, y + sheetMargin
}

// storeyMarks writes level marks at the left margin where storeys line up.
func (l *layout) storeyMarks(b *block) {
	var storeys []int
	for k := range l.reached {
		if !l.spoiled[k] {
			storeys = append(storeys, k)
		}
	}
	slices.Sort(storeys)
	if len(storeys) < 2 {
		return
	}
	x := b.room.x0 - 14
	e := element{}
	for _, k := range storeys {
		y := l.reached[k]
		e.shapes = append(e.shapes, text(x-16, y+4, captionText, end, fmt.Sprintf("storey %d", k)),
			closed(pen{}, point{x - 10, y - 7}, point{x, y - 7}, point{x - 5, y}), line(pen{}, point{x - 12, y}, point{x + 6, y}))
	}
	b.add(e)
}

// looseNotes lists the pipes and nodes that fit no tree, with ids and marks.
func (l *layout) looseNotes(s *sheet, y, width float64) float64 {
	type note struct{ id, title, text string }
	var notes []note
	for k, t := range l.looseTexts() {
		p := l.data.Pipes[l.loose[k]]
		notes = append(notes, note{p.ID, pipeTitle(p), t})
	}
	drawn := map[string]bool{}
	for _, e := range s.elements {
		drawn[e.id] = true
	}
	for _, n := range l.data.Nodes {
		if !drawn[n.ID] {
			drawn[n.ID] = true
			kind := deviceName(string(n.Kind))
			notes = append(notes, note{n.ID, words(" ", kind, n.ID), words(" ", kind, n.ID) + ": nothing drawn leads to it"})
		}
	}
	if len(notes) == 0 {
		return y
	}
	y += 18
	head := text(sheetMargin, y, bodyText, start, "Not drawn in the diagram:")
	head.bold = true
	s.furniture(head)
	for _, n := range notes {
		e := element{id: n.id, title: n.title}
		marks, w := l.data.marks(n.id, sheetMargin, y+18)
		e.shapes = append(e.shapes, marks...)
		if w > 0 {
			w += 6
		}
		for _, row := range wrap(n.text, bodyText, width-2*sheetMargin-w) {
			y += 17
			e.shapes = append(e.shapes, text(sheetMargin+w, y+4, bodyText, start, row))
		}
		y += 4
		s.add(e)
	}
	return y
}
