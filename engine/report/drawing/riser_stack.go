package drawing

import "math"

// upright lays a pipe up from the exit, then what flows into it, and goes on
// straight up as long as upright pipes follow. Branches lie to the left, each
// above the one before; vents on their way up give way to the left. The first
// lead is kept free of texts; y is the row of the exit, as far as known.
func (l *layout) upright(i int, lead, x, y float64) *block {
	b := &block{}
	at, beside := 0.0, 0
	stack, branches := l.severalStoreys(i)
	for {
		n := l.from(i)
		head, next, bar := l.headUpright(n)
		l.giveWay(b, math.Min(head.room.x0, -l.besideUpright(i))-gap, head.room.x1+20)
		if crossed := b.top(-14, -1); crossed < at-1 { // its texts keep off the vents that cross
			lead = math.Max(lead, at-crossed+nearLabel)
		}
		row := l.rowAbove(b, i, at, lead, head)
		if l.vent[n] >= 0 {
			row = l.clearBeside(b, beside, row)
		}
		if s, ok := l.storeyOfHead(n); ok && stack {
			row = l.align(s, y+row) - y
		}
		l.uprightPipe(b, i, at, row, lead, head)
		b.put(head, 0, row)
		l.nodeUpright(b, n, row, bar, next >= 0, &beside)
		if branches > 1 {
			l.realise(b, false)
		}
		if next < 0 {
			return b
		}
		i, at, lead = next, row, nearLabel+bar
	}
}

const sideStep = 28 // between an upright line and the vents that rise to its right

// clearBeside moves the row of a node up until its vent can leave to the right
// over the vents already there.
func (l *layout) clearBeside(b *block, beside int, row float64) float64 {
	row = math.Min(row, b.top(4, float64(beside+1)*sideStep+8)+4)
	for _, p := range b.ports {
		if p.at().x > 0 {
			row = math.Min(row, p.clear)
		}
	}
	return row
}

// severalStoreys reports whether an upright line has branches on two storeys
// or more, so that their rows show the storeys, and how many branches it has.
// Vents are joined branch by branch only where there are several.
func (l *layout) severalStoreys(i int) (several bool, branches int) {
	first, found := 0, false
	for next := i; next >= 0; {
		n := l.from(next)
		if s, ok := l.storeyOfHead(n); ok {
			several = several || found && s != first
			first, found = s, true
		}
		var up []int
		for _, p := range l.in[n] {
			if l.data.Pipes[p].upright() {
				up = append(up, p)
			}
		}
		if len(up) < len(l.in[n]) {
			branches++
		}
		next, _ = l.straight(n, up)
	}
	return several, branches
}

// storeyOfHead is the storey of the level branches at a node.
func (l *layout) storeyOfHead(n int) (int, bool) {
	for _, p := range l.in[n] {
		if !l.data.Pipes[p].upright() {
			return l.storeyOf(p)
		}
	}
	return 0, false
}

// align keeps the branches of one storey on one row throughout the drawing.
func (l *layout) align(storey int, row float64) float64 {
	if t, ok := l.target[storey]; ok {
		row = math.Min(row, t)
	}
	if r, ok := l.reached[storey]; !ok || row < r {
		if ok && r != row {
			l.spoiled[storey] = true
		}
		l.reached[storey] = row
	} else if r != row {
		l.spoiled[storey] = true
	}
	return row
}

// rowAbove is the row of the next node up: far enough for the texts of the
// pipe, its devices and whatever the node carries to the left.
func (l *layout) rowAbove(b *block, i int, at, lead float64, head *block) float64 {
	p := l.data.Pipes[i]
	hang := math.Max(12, head.room.y1+8)
	row := at - lead - l.turnedLength(i, "") - 14 - hang
	row = math.Min(row, b.top(head.room.x0-4, -1)-hang)
	if len(p.Devices) > 0 {
		w := l.besideUpright(i)
		height := float64(len(p.Devices)) * 24
		row = math.Min(row, math.Min(at-lead-l.turnedLength(i, "")-14, b.top(-w-4, 4))-height-hang)
	}
	return row
}

// besideUpright is how far the texts of an upright pipe reach to its left.
func (l *layout) besideUpright(i int) float64 {
	w := 18.0
	for _, d := range l.data.Pipes[i].Devices {
		w = math.Max(w, 16+textWidth(deviceCode(d.Kind), pipeText, true)+l.data.marksWidth(d.ID))
	}
	return w
}

// uprightPipe draws the pipe between two rows.
func (l *layout) uprightPipe(b *block, i int, at, row, lead float64, head *block) {
	p := l.data.Pipes[i]
	e := l.pipeElement(i)
	e.shapes = append(e.shapes, l.pipeLine(i, point{0, row}, point{0, at}))
	own, _ := l.turnedLabel(i, 0, at-lead, "")
	e.shapes = append(e.shapes, own...)
	c := point{0, at - lead - l.turnedLength(i, "") - 6}
	e.shapes = append(e.shapes, closed(pen{fill: "ink", width: 0.5}, c.plus(-2.8, -arrowReach), c.plus(0, arrowReach), c.plus(2.8, -arrowReach)))
	b.add(e)
	y := row + math.Max(12, head.room.y1+8) + 10
	for _, d := range p.Devices {
		b.add(l.device(d, p, point{0, y}, true))
		y += 24
	}
}

// headUpright is what stands at the upper end of an upright pipe, to the left
// of it, the pipe that goes on upwards, or -1, and how far the bar of a fitting
// with more inlets reaches up.
func (l *layout) headUpright(n int) (head *block, next int, bar float64) {
	node := l.data.Nodes[n]
	switch {
	case node.Kind == Fixture && len(l.in[n]) == 0:
		return l.fixture(n, true), -1, 0
	case node.Kind == Pump || node.Kind == Basin:
		// A pumped line never stands upright, so this is a design gone wrong.
		b := &block{}
		b.put(l.headLevel(n), -14, 0)
		b.add(element{ends: [2]string{node.ID, node.ID}, shapes: []shape{pipeBar(point{-14, 0}, point{0, 0})}})
		return b, -1, 0
	}
	var side, up []int
	for _, p := range l.in[n] {
		if l.data.Pipes[p].upright() {
			up = append(up, p)
		} else {
			side = append(side, p)
		}
	}
	next, more := l.straight(n, up)
	b := &block{}
	row := 0.0
	for k, p := range append(side, more...) {
		o := l.sidewise(p, 0)
		if k > 0 {
			l.giveWay(b, o.room.x0-gap, 8)
			row = math.Min(row-24, b.top(o.room.x0-4, 4)-o.room.y1-gap)
			b.add(element{ends: [2]string{node.ID, node.ID}, title: "further inlets of " + node.ID,
				shapes: []shape{pipeBar(point{0, row}, point{0, 0})}})
		}
		b.put(o, 0, row)
		if l.size[l.from(p)] > 1 {
			l.realise(b, false)
		}
	}
	return b, next, -row
}

// sidewise lays a pipe that enters an upright line from the left, its first
// free of texts; an upright one comes over an elbow.
func (l *layout) sidewise(p int, free float64) *block {
	if !l.data.Pipes[p].upright() {
		return l.level(p, 26+free, 0)
	}
	o := l.upright(p, nearLabel, 0, 0)
	b := &block{}
	reach := free + math.Max(28, o.room.x1+2*gap)
	b.put(o, -reach, 0)
	b.add(element{ends: [2]string{l.data.Pipes[p].From, l.data.Pipes[p].To}, shapes: []shape{l.pipeLine(p, point{-reach, 0}, point{0, 0})}})
	return b
}

// nodeUpright draws a junction on an upright line, its texts to the right.
func (l *layout) nodeUpright(b *block, n int, row, bar float64, more bool, beside *int) {
	node := l.data.Nodes[n]
	if node.Kind == Fixture && len(l.in[n]) == 0 || node.Kind == Pump || node.Kind == Basin {
		return
	}
	e := l.dot(n, point{3, row})
	for k := range e.shapes {
		if e.shapes[k].kind != ring {
			e.shapes[k] = e.shapes[k].moved(4+float64(*beside)*(sideStep+8), -10)
		}
	}
	b.add(e)
	switch {
	case l.vent[n] < 0:
	case !more:
		l.startVent(b, n, point{0, row - bar}, -1, false)
	default:
		l.startVent(b, n, point{0, row}, float64(*beside)*sideStep, false)
		*beside++
	}
}

// startVent opens the way up for the vent of a node. Where an upright drain
// stands in the way, the vent leaves to the right of it.
func (l *layout) startVent(b *block, n int, at point, right float64, diagonal bool) {
	i := l.vent[n]
	if i < 0 {
		return
	}
	p := &port{pipe: i, node: l.index[l.data.Pipes[i].To], from: n, path: []point{at}}
	from := at.y - nearLabel
	switch {
	case right >= 0:
		x := right + sideStep
		p.path = append(p.path, at.plus(12, -12), point{at.x + x, at.y - 12})
		b.cover(box{at.x, at.y - 12, at.x + x + 4, at.y})
		from -= 12
	case diagonal:
		from -= 16
	}
	l.openPort(b, p, from)
}

// openPort hands a vent on upwards; its turned label starts at from.
func (l *layout) openPort(b *block, p *port, from float64) {
	x := p.at().x
	p.label, p.clear = from, from-4
	if p.pipe >= 0 {
		p.clear = from - l.turnedLength(p.pipe, l.ownMarks(p.from)) - 6
	}
	if l.data.Nodes[p.node].Kind == AirValve {
		p.clear -= l.valveHeight(p.node)
	}
	b.ports = append(b.ports, p)
	b.cover(box{x - 22, p.at().y, x + math.Max(6, l.data.marksWidth(l.ownMarks(p.from))/2+1), p.at().y})
}

// ownMarks is the vent node whose marks stand beside the vent that leaves it.
func (l *layout) ownMarks(n int) string {
	if l.ventNode(n) {
		return l.data.Nodes[n].ID
	}
	return ""
}
