package drawing

import "math"

const captionText = 10.5

// name is what a node prints: its label, else its id.
func (n Node) name() string {
	if n.Label != "" {
		return n.Label
	}
	return n.ID
}

// caption is a node's name, notes and marks, centred over a point upwards.
func (l *layout) caption(n int, at point) []shape {
	node := l.data.Nodes[n]
	lines := append([]string{node.name()}, node.Notes...)
	var out []shape
	y := at.y - float64(len(lines)-1)*12.5
	for i, t := range lines {
		out = append(out, text(at.x, y+float64(i)*12.5, captionText, middle, shorten(t, 24)))
	}
	m := l.data.marksWidth(node.ID)
	marks, _ := l.data.marks(node.ID, at.x-m/2, y-19)
	return append(out, marks...)
}

// fixture draws a fixture over the upper end of its drain, its trap between.
func (l *layout) fixture(n int, upright bool) *block {
	node := l.data.Nodes[n]
	code := fixtureCode(node.Fixture)
	w := math.Max(26, textWidth(code, captionText, true)+8)
	b := &block{}
	e := element{id: node.ID, ends: [2]string{node.ID, node.ID}, title: words(" ", words("", deviceName(node.Fixture), onlyIf(node.Fixture == "", "fixture")), node.ID)}
	x, foot := -12.0, -26.0
	if upright {
		x = 0
	}
	pipe := drainPen
	var way []point
	switch {
	case node.Trap != "" && !upright:
		way = append(append([]point{{0, 0}}, arc(point{-6, 0}, 6, 0, 180)...), point{x, foot})
	case node.Trap != "":
		way = append([]point{{0, 0}, {0, -8}}, arc(point{-4, -8}, 4, 0, -180)...)
		way = append(way, arc(point{-12, -8}, 4, 0, 180)...)
		x = -16
		way = append(way, point{x, foot})
	default:
		way = []point{{0, 0}, {x, 0}, {x, foot}}
	}
	s := line(pipe, way...)
	s.pipe = true
	sign := text(x, foot-6, captionText, middle, code)
	sign.bold, sign.inner = true, true
	e.shapes = append(e.shapes, s)
	e.shapes = append(e.shapes, asBody(rectangle(pen{width: 1.4}, box{x - w/2, foot - 20, x + w/2, foot}))...)
	e.shapes = append(e.shapes, sign)
	if node.Trap != "" {
		e.shapes = append(e.shapes, text(x-7, foot+12, captionText, end, node.Trap))
	}
	e.shapes = append(e.shapes, l.caption(n, point{x, foot - 25})...)
	b.add(e)
	return b
}

// pumpShapes is the sign of a pump.
func pumpShapes(c point, r float64) []shape {
	return asBody(circle(pen{width: 1.6}, c, r), closed(pen{fill: "ink", width: 0.6}, c.plus(-r*0.5, r*0.45), c.plus(0, -r*0.75), c.plus(r*0.5, r*0.45)))
}

// pump draws a pump whose line is not the first of its basin.
func (l *layout) pump(n int) *block {
	node := l.data.Nodes[n]
	b := &block{}
	e := element{id: node.ID, ends: [2]string{node.ID, node.ID}, title: words(" ", "pump", node.ID, onlyIf(node.In != "", "in basin "+node.In))}
	s := line(pumpedPen, point{0, 0}, point{-14, 0}, point{-14, 24})
	s.pipe = true
	e.shapes = append(append(e.shapes, s), pumpShapes(point{-14, 34}, 10)...)
	e.shapes = append(e.shapes, text(-14, 58, captionText, middle, node.name()))
	y := 70.0
	if node.In != "" {
		e.shapes = append(e.shapes, text(-14, y, captionText, middle, "in "+node.In))
		y += 12
	}
	m := l.data.marksWidth(node.ID)
	marks, _ := l.data.marks(node.ID, -14-m/2, y)
	e.shapes = append(e.shapes, marks...)
	b.add(e)
	return b
}

const (
	basinDrop  = 64 // from the pumped line down to the cover
	basinLeft  = -54
	basinRight = 24
	basinDeep  = 62
)

// basin draws a basin under the exit of its pump, or right of its drains where
// nothing is pumped; its drains come in from the left.
func (l *layout) basin(n, pump int) *block {
	node := l.data.Nodes[n]
	b := &block{}
	top := float64(basinDrop)
	inlets := l.in[n]
	deep := math.Max(basinDeep, 20+14*float64(len(inlets)))
	e := element{id: node.ID, ends: [2]string{node.ID, node.ID}, title: words(" ", "basin", node.ID)}
	e.shapes = asBody(closed(pen{width: 2.2}, point{basinLeft, top}, point{basinRight, top}, point{basinRight, top + deep}, point{basinLeft, top + deep}),
		line(pen{width: 3.4}, point{basinLeft - 4, top}, point{basinRight + 4, top}))
	l.below(&e, n, top+deep)
	b.add(e)
	l.pumpInBasin(b, n, pump, top, deep)
	lead := math.Max(0, basinLeft-b.room.x0)
	l.inlets(b, inlets, top, lead)
	if v := l.vent[n]; v >= 0 {
		p := &port{pipe: v, node: l.index[l.data.Pipes[v].To], from: n, path: []point{{basinLeft + 26, top}}}
		l.openPort(b, p, top-nearLabel)
	}
	return b
}

// below writes name, notes and marks under a basin.
func (l *layout) below(e *element, n int, y float64) {
	node := l.data.Nodes[n]
	x := (basinLeft + basinRight) / 2.0
	for _, t := range append([]string{node.name()}, node.Notes...) {
		y += 13.5
		e.shapes = append(e.shapes, text(x, y, captionText, middle, shorten(t, 30)))
	}
	m := l.data.marksWidth(node.ID)
	marks, _ := l.data.marks(node.ID, x-m/2, y+14)
	e.shapes = append(e.shapes, marks...)
}

// pumpInBasin draws the pumps of a basin; the line of the first one goes up.
func (l *layout) pumpInBasin(b *block, n, host int, top, deep float64) {
	k := 0
	for i, node := range l.data.Nodes {
		if node.Kind != Pump || node.In != l.data.Nodes[n].ID || i != host && l.out[i] >= 0 {
			continue
		}
		x := 0.0
		if i != host {
			k++
			x = float64(-24 * k)
		}
		e := element{id: node.ID, ends: [2]string{node.ID, l.data.Nodes[n].ID}, title: words(" ", "pump", node.ID)}
		if i == host {
			s := line(pumpedPen, point{0, 0}, point{0, top + deep - 24})
			s.pipe = true
			e.shapes = append(append(e.shapes, s), arrowUp(point{0, top - 20}, arrowReach+1)...)
		}
		e.shapes = append(e.shapes, pumpShapes(point{x, top + deep - 14}, 10)...)
		if i == host {
			marks, _ := l.data.marks(node.ID, basinRight+8, top+deep-14)
			e.shapes = append(e.shapes, marks...)
		}
		b.add(e)
	}
}

// inlets lead drains into the left side of a basin, one over the other.
func (l *layout) inlets(b *block, inlets []int, top, lead float64) {
	for k, p := range inlets {
		into := point{basinLeft, top + 12 + 14*float64(len(inlets)-1-k)}
		if k == 0 {
			lead += 10 * float64(len(inlets)-1)
		}
		o := l.sidewise(p, lead)
		if k == 0 {
			b.put(o, into.x, into.y)
			l.realise(b, false)
			continue
		}
		x := basinLeft - 6 - 10*float64(len(inlets)-k-1)
		l.giveWay(b, x+o.room.x0-gap, basinLeft)
		row := math.Min(into.y-20, b.top(x+o.room.x0-4, basinLeft-5)-o.room.y1-gap)
		b.put(o, x, row)
		b.add(element{ends: [2]string{l.data.Pipes[p].From, l.data.Pipes[p].To}, shapes: []shape{
			l.pipeLine(p, point{x, row}, point{x, into.y}, into)}})
		l.realise(b, false)
	}
}

// terminal draws where a vent ends.
func (l *layout) terminal(n int, at point, turned bool) element {
	node := l.data.Nodes[n]
	e := element{id: node.ID, ends: [2]string{node.ID, node.ID}, title: words(" ", deviceName(string(node.Kind)), node.ID)}
	top := at.y
	switch node.Kind {
	case AirValve:
		e.shapes = asBody(rectangle(pen{width: 1.4}, box{at.x - 6, at.y - 12, at.x + 6, at.y}), line(pen{width: 1.4}, at.plus(-6, -12), at, at.plus(6, -12)))
		top -= 16
	case WallVent:
		e.shapes = asBody(line(pen{width: 1.6}, at.plus(-6, 0), at.plus(6, 0)), line(pen{width: 1.6}, at.plus(0, 0), at.plus(0, -6)), line(pen{width: 1.2}, at.plus(-6, -6), at.plus(6, -6)))
		top -= 11
	default:
		e.shapes = asBody(line(pen{width: 1.6}, at.plus(-6, 0), at.plus(6, 0)), line(pen{width: 1.2}, at.plus(-5, -4), at.plus(0, -9), at.plus(5, -4)))
		top -= 14
	}
	if !turned {
		e.shapes = append(e.shapes, l.caption(n, point{at.x, top - 3})...)
		return e
	}
	t := text(at.x+4, top, captionText, start, shorten(words(", ", append([]string{node.name()}, node.Notes...)...), 34))
	t.turned = true
	e.shapes = append(e.shapes, t)
	y := top - textWidth(t.text, captionText, false) - 4
	for _, m := range l.data.Marks[node.ID] {
		e.shapes = append(e.shapes, shape{kind: marking, mark: m, at: []point{{at.x, y - markRadius}}})
		y -= 2*markRadius + 1
	}
	return e
}
