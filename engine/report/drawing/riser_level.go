package drawing

import "math"

// headLevel is what stands at the upper end of a level pipe.
func (l *layout) headLevel(n int) *block {
	node := l.data.Nodes[n]
	switch {
	case node.Kind == Fixture && len(l.in[n]) == 0:
		return l.fixture(n, false)
	case l.hosted(n) >= 0:
		return l.basin(l.hosted(n), n)
	case node.Kind == Basin:
		return l.basin(n, -1)
	case node.Kind == Pump && len(l.in[n]) == 0:
		return l.pump(n)
	}
	b := &block{}
	l.nodeLevel(b, n)
	return b
}

// nodeLevel draws a junction on a level line and everything that enters it.
func (l *layout) nodeLevel(b *block, n int) {
	in := l.inflowOf(n)
	b.add(l.dot(n, point{3, 0}))
	diagonal := len(in.branches) > 0
	right := l.ascend(b, n, in)
	l.startVent(b, n, point{0, 0}, right, diagonal)
}

// inflow is what enters a node on a level line.
type inflow struct {
	up, branches, below []int // upright, level from above, pumped from below
	run                 int
}

func (in inflow) more() bool { return len(in.up)+len(in.branches)+len(in.below) > 0 }

// inflowOf sorts what enters a node.
func (l *layout) inflowOf(n int) inflow {
	var in inflow
	var flat []int
	for _, p := range l.in[n] {
		switch {
		case l.data.Pipes[p].Service == Pumped:
			in.below = append(in.below, p)
		case l.data.Pipes[p].upright():
			in.up = append(in.up, p)
		default:
			flat = append(flat, p)
		}
	}
	in.run, in.branches = l.straight(n, flat)
	if in.run < 0 && len(in.up) == 0 && len(in.below) > 0 {
		in.run, in.below = in.below[0], in.below[1:]
	}
	return in
}

// ascend places what enters a level node: one upright or branching pipe above,
// one pumped line below, and the run to the left. What is left over enters
// further left, over a heavy bar: one fitting with more inlets. It returns how
// far to the right the first upright pipe reaches, or -1.
func (l *layout) ascend(b *block, n int, in inflow) float64 {
	right, x := -1.0, 0.0
	for first := true; ; first = false {
		lead, width := 8.0, 0.0
		if first && l.vent[n] >= 0 {
			lead = 24
		}
		var above *block
		up := len(in.up) > 0
		switch {
		case up:
			above = l.upright(in.up[0], 34, 0, 0)
		case len(in.branches) > 0:
			above = l.level(in.branches[0], 8, 0)
		}
		if above != nil && !first { // its texts on the right keep off the neighbour
			x = l.bar(b, n, x, x-math.Max(0, above.room.x1))
		}
		switch {
		case up:
			b.put(above, x, 0)
			if first {
				right = math.Max(0, above.room.x1)
			}
			lead, width, in.up = 28, -above.room.x0+gap, in.up[1:]
		case above != nil:
			drop := l.branch(b, in.branches[0], above, x)
			lead, width, in.branches = 40, -above.room.x0+drop+gap, in.branches[1:]
		}
		if len(in.below) > 0 {
			width = l.lift(b, n, in.below[0], x, width)
			lead, in.below = math.Max(lead, width), in.below[1:]
		}
		if !in.more() {
			if in.run >= 0 {
				b.put(l.level(in.run, lead, width), x, 0)
			}
			return right
		}
		x = l.bar(b, n, x, x-math.Max(24, width))
	}
}

// bar draws the heavy bar of a fitting with more inlets than one place holds.
func (l *layout) bar(b *block, n int, from, to float64) float64 {
	if to < from {
		id := l.data.Nodes[n].ID
		b.add(element{ends: [2]string{id, id}, title: "further inlets of " + id, shapes: []shape{pipeBar(point{to, 0}, point{from, 0})}})
	}
	return to
}

// branch brings a level pipe down into a node at 45 degrees and returns how
// far.
func (l *layout) branch(b *block, p int, o *block, x float64) float64 {
	drop := math.Max(46, o.room.y1+32)
	b.put(o, x-drop, -drop)
	b.add(element{ends: [2]string{l.data.Pipes[p].From, l.data.Pipes[p].To}, shapes: []shape{l.pipeLine(p, point{x, 0}, point{x - drop, -drop})}})
	return drop
}

// lift brings a pumped line up into a node, clear of what stands above it for
// its vents, and returns the width it takes.
func (l *layout) lift(b *block, n, p int, x, width float64) float64 {
	o := l.level(p, 14, 0)
	drop := math.Max(40, -o.room.y0+24+float64(len(l.data.Nodes[n].Notes))*12)
	for _, v := range o.ports { // the texts of its vents stay below the line they cross
		drop = math.Max(drop, 24-v.clear)
	}
	aside := math.Max(8, width+math.Max(0, o.room.x1))
	b.put(o, x-aside, drop)
	b.add(element{ends: [2]string{l.data.Pipes[p].From, l.data.Pipes[p].To}, shapes: []shape{
		l.pipeLine(p, point{x - aside, drop}, point{x - 8, drop}, point{x - 8, 8}, point{x, 0})}})
	return -o.room.x0 + aside + gap
}

func pipeBar(a, b point) shape {
	s := line(pen{width: 4.5}, a, b)
	s.pipe = true
	return s
}

// dot draws a junction with its texts right of and below it.
func (l *layout) dot(n int, at point) element {
	node := l.data.Nodes[n]
	e := element{id: node.ID, ends: [2]string{node.ID, node.ID}, title: words(" ", string(node.Kind), node.ID)}
	e.shapes = asBody(circle(pen{fill: "ink"}, at.plus(-3, 0), 2.4))
	y := at.y + 14
	for _, t := range nonEmpty(append([]string{node.Label}, node.Notes...)...) {
		e.shapes = append(e.shapes, text(at.x+2, y, pipeText, start, shorten(t, 30)))
		y += 12.5
	}
	if l.ventNode(n) {
		return e
	}
	marks, _ := l.data.marks(node.ID, at.x+2, y)
	e.shapes = append(e.shapes, marks...)
	return e
}

// ventNode reports whether only vents meet at a node.
func (l *layout) ventNode(n int) bool { return len(l.ventIn[n]) > 0 }
