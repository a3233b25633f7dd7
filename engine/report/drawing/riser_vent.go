package drawing

import (
	"math"
	"slices"
)

const (
	corridor  = 28 // between upright vents that pass side by side
	rowBelow  = 24 // room under a level vent for its slope
	rowAbove  = 26 // room over a level vent for its size
	ventBlank = 10 // a turning vent keeps this off what lies below
)

// realise joins the vents that meet at a node of vents as soon as all of them
// are there, or, by force, as soon as one is.
func (l *layout) realise(b *block, force bool) {
	for {
		v, group := l.complete(b, force)
		if v < 0 {
			return
		}
		b.ports = slices.DeleteFunc(b.ports, func(p *port) bool { return slices.Contains(group, p) })
		if l.data.Nodes[v].Kind == AirValve && len(group) == 1 {
			l.airValve(b, v, group[0])
			continue
		}
		l.join(b, v, group)
	}
}

// complete finds the first node, in the order of the ports, whose vents are
// all in the block.
func (l *layout) complete(b *block, force bool) (int, []*port) {
	waiting := map[int]int{}
	for _, p := range b.ports {
		waiting[p.node]++
	}
	for _, p := range b.ports {
		v, n := p.node, waiting[p.node]
		if k := l.data.Nodes[v].Kind; n == 1 && (k == RoofVent || k == WallVent) || p.pipe < 0 && k != AirValve {
			continue
		}
		if n < len(l.ventIn[v]) && !force && p.pipe >= 0 {
			continue
		}
		var group []*port
		for _, q := range b.ports {
			if q.node == v {
				group = append(group, q)
			}
		}
		return v, group
	}
	return -1, nil
}

// join draws the node v where a group of vents meets: one goes straight up to
// it, the others come along its row.
func (l *layout) join(b *block, v int, group []*port) {
	col := l.column(group)
	x := col.at().x
	row, onRow := l.ventRow(b, col, group)
	for _, p := range group {
		level := onRow && p != col && p.at().y == row
		if p != col {
			if !level {
				p.path = append(p.path, point{p.at().x, row})
			}
			p.path = append(p.path, point{x, row})
		} else {
			p.path = append(p.path, point{x, row})
		}
		l.drawVent(b, p, level)
	}
	node := l.data.Nodes[v]
	e := element{id: node.ID, ends: [2]string{node.ID, node.ID}, title: words(" ", string(node.Kind), node.ID)}
	if terminal(node.Kind) {
		e = element{ends: [2]string{node.ID, node.ID}} // the terminal itself comes at the roof
	}
	e.shapes = asBody(circle(pen{fill: "ink"}, point{x, row}, 2.4))
	out := &port{pipe: -1, node: v, from: v, path: []point{{x, row}}}
	if !terminal(node.Kind) {
		out.pipe = l.vent[v]
	}
	if out.pipe < 0 && !terminal(node.Kind) {
		e.shapes = append(e.shapes, circle(pen{}, point{x, row}, 6)) // it goes nowhere
		marks, _ := l.data.marks(node.ID, x+8, row-12)
		e.shapes = append(e.shapes, marks...)
		b.add(e)
		return
	}
	b.add(e)
	if out.pipe >= 0 {
		out.node = l.index[l.data.Pipes[out.pipe].To]
	}
	l.openPort(b, out, row-nearLabel)
}

// column picks the vent that goes straight up to where a group meets: the
// rightmost that is upright, else the rightmost.
func (l *layout) column(group []*port) *port {
	best := group[0]
	rank := func(p *port) int {
		if p.pipe >= 0 && l.data.Pipes[p.pipe].upright() {
			return 1
		}
		return 0
	}
	for _, p := range group[1:] {
		if rank(p) > rank(best) || rank(p) == rank(best) && p.at().x > best.at().x {
			best = p
		}
	}
	return best
}

// ventRow finds the row where a group meets. A level vent that starts at a
// node of vents stays on that node's row where nothing is in the way.
func (l *layout) ventRow(b *block, col *port, group []*port) (float64, bool) {
	x := col.at().x
	x0, x1 := x, x
	for _, p := range group {
		x0, x1 = math.Min(x0, p.at().x), math.Max(x1, p.at().x)
	}
	if len(group) == 2 {
		side := group[0]
		if side == col {
			side = group[1]
		}
		if l.canStay(b, side, col) {
			return side.at().y, true
		}
	}
	row := col.clear
	for _, p := range append(l.header(b, group[0].node), group...) {
		row = math.Min(row, p.clear)
		x0, x1 = math.Min(x0, p.at().x), math.Max(x1, p.at().x)
	}
	if x1 > x0 {
		row = math.Min(row, b.top(x0-4, x1+4)-rowBelow)
	}
	for _, p := range b.ports {
		if px := p.at().x; px > x0-6 && px < x1+20 {
			row = math.Min(row, p.clear)
		}
	}
	return math.Min(row, b.top(x-22, x+8)-2), false // the texts of the vent that goes on stand left of it
}

// header finds the vents that will join further along the same level run, so
// that its row clears them all.
func (l *layout) header(b *block, v int) []*port {
	var out []*port
	for range b.ports {
		p := l.vent[v]
		if p < 0 || l.data.Pipes[p].upright() {
			break
		}
		v = l.index[l.data.Pipes[p].To]
		for _, q := range b.ports {
			if q.node == v {
				out = append(out, q)
			}
		}
	}
	return out
}

// canStay reports whether a vent can go level from its node to a column.
func (l *layout) canStay(b *block, side, col *port) bool {
	if side.pipe < 0 || l.data.Pipes[side.pipe].upright() || len(side.path) != 1 || !l.ventNode(side.from) {
		return false
	}
	from, to, row := side.at().x, col.at().x, side.at().y
	x0, x1 := math.Min(from, to), math.Max(from, to)
	if col.clear < row || b.top(to-22, to+8) < row-1 || b.top(x0+6, x1-20) < row+rowBelow-0.1 || len(col.path) > 1 && col.at().y < row {
		return false
	}
	m := l.data.marksWidth(l.ownMarks(side.from)) / 2
	if m > 0 && b.top(from-m-2, from+m+2) < row-3 {
		return false // the marks of its node have no room above
	}
	for _, p := range b.ports {
		if px := p.at().x; px > x0-6-m && px < x1+6+m && p.clear < row {
			return false
		}
	}
	_, ok := l.levelGap(b, side, from, to)
	return ok
}

// levelGap finds room for a level label between the upright vents that cross;
// each of them has its own texts to its left.
func (l *layout) levelGap(b *block, side *port, from, to float64) (float64, bool) {
	marks := l.data.marksWidth(l.ownMarks(side.from)) / 2
	left, right := math.Min(from, to)+6, math.Max(from, to)
	if from < to {
		left += marks
	} else {
		right -= marks
	}
	xs := []float64{right}
	for _, p := range b.ports {
		if px := p.at().x; px > left && px < right {
			xs = append(xs, px)
		}
	}
	slices.Sort(xs)
	need := l.labelWidth(side.pipe)
	best, found := 0.0, false
	for _, x := range xs {
		if room := x - 21 - left; room >= need {
			best, found = left+(room-need)/2, true // the rightmost, next to where it goes
		}
		left = x + 5
	}
	return best, found
}

// drawVent draws the finished way of a vent with its texts: along the line
// where it lies level, else beside its upright start.
func (l *layout) drawVent(b *block, p *port, level bool) {
	if p.pipe < 0 {
		e := element{ends: [2]string{l.data.Nodes[p.node].ID, l.data.Nodes[p.node].ID}}
		s := line(ventPen, p.path...)
		s.pipe = true
		e.shapes = []shape{s}
		b.add(e)
		return
	}
	e := l.pipeElement(p.pipe)
	e.shapes = append(e.shapes, l.pipeLine(p.pipe, p.path...))
	if level {
		x, _ := l.levelGap(b, p, p.path[0].x, p.at().x)
		e.shapes = append(e.shapes, l.levelLabel(p.pipe, x, p.at().y)...)
		if own := l.ownMarks(p.from); own != "" {
			m, w := l.data.marks(own, 0, p.at().y-14)
			for i := range m {
				m[i] = m[i].moved(p.path[0].x-w/2, 0)
			}
			b.add(element{shapes: m})
		}
	} else {
		own, others := l.turnedLabel(p.pipe, l.labelX(p), p.label, l.ownMarks(p.from))
		e.shapes = append(e.shapes, own...)
		b.add(element{shapes: others})
	}
	b.add(e)
}

// labelX is the upright line beside which a vent carries its label: the first
// one of its way.
func (l *layout) labelX(p *port) float64 {
	for i := 1; i < len(p.path); i++ {
		if p.path[i].x == p.path[i-1].x && p.path[i].y < p.path[i-1].y {
			return p.path[i].x
		}
	}
	return p.path[0].x
}

// valveHeight is the room of an air admittance valve above its vent.
func (l *layout) valveHeight(v int) float64 {
	var r box
	for _, s := range l.terminal(v, point{}, true).shapes {
		r = r.with(s.bounds())
	}
	return 4 - r.y0
}

// airValve ends a vent in its valve.
func (l *layout) airValve(b *block, v int, p *port) {
	x, y := p.at().x, math.Min(p.clear+l.valveHeight(v), b.top(p.at().x-10, p.at().x+10)-4)
	for _, q := range b.ports {
		if math.Abs(q.at().x-x) < 16 {
			y = math.Min(y, q.clear)
		}
	}
	p.path = append(p.path, point{x, y})
	l.drawVent(b, p, false)
	b.add(l.terminal(v, point{x, y}, true))
}
