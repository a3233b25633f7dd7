package drawing

import "math"

const (
	pipeText   = 10.5
	gap        = 12 // between neighbours
	nearLabel  = 8  // from a node to the start of a turned label
	arrowReach = 4
)

var servicePens = map[Service]pen{Drain: drainPen, Vent: ventPen, Pumped: pumpedPen}

// pipeTitle is what a pipe is called where it is pointed at.
func pipeTitle(p Pipe) string {
	return words(", ", words(" ", string(p.Service), p.ID), p.Size, p.Slope, p.Label)
}

// pipeElement is a pipe with no shapes yet.
func (l *layout) pipeElement(i int) element {
	p := l.data.Pipes[i]
	l.drawn[i] = true
	return element{id: p.ID, ends: [2]string{p.From, p.To}, title: pipeTitle(p)}
}

// pipeLine is the line of a pipe, which no text may touch.
func (l *layout) pipeLine(i int, at ...point) shape {
	s := line(servicePens[l.data.Pipes[i].Service], at...)
	s.pipe = true
	return s
}

// labelWidth is the room of a pipe's texts along a level line.
func (l *layout) labelWidth(i int) float64 {
	p := l.data.Pipes[i]
	w := textWidth(p.Size, pipeText, false)
	if m := l.data.marksWidth(p.ID); m > 0 {
		w += m + 4
	}
	return math.Max(22, math.Max(w, math.Max(textWidth(p.Slope, pipeText, false), textWidth(p.Label, pipeText, false)))) + 8
}

// levelLabel writes size and marks above a level line and slope below it,
// from x on.
func (l *layout) levelLabel(i int, x, y float64) []shape {
	p := l.data.Pipes[i]
	w := l.labelWidth(i) - 8
	x += 4
	shapes := []shape{}
	room := textWidth(p.Size, pipeText, false)
	if m := l.data.marksWidth(p.ID); m > 0 {
		room += m + 4
	}
	left := x + (w-room)/2
	if p.Size != "" {
		shapes = append(shapes, text(left, y-8, pipeText, start, p.Size))
	}
	marks, _ := l.data.marks(p.ID, left+room-l.data.marksWidth(p.ID), y-14)
	shapes = append(shapes, marks...)
	if p.Slope != "" {
		shapes = append(shapes, text(x+w/2, y+15, pipeText, middle, p.Slope))
	}
	if p.Label != "" {
		row := y + 15
		if p.Slope != "" {
			row += 12
		}
		shapes = append(shapes, text(x+w/2, row, pipeText, middle, p.Label))
	}
	return shapes
}

// turnedLength is the room of a pipe's texts along an upright line, the marks
// of another element included.
func (l *layout) turnedLength(i int, also string) float64 {
	p := l.data.Pipes[i]
	t := words("  ", p.Size, p.Slope, p.Label)
	h := 0.0
	if t != "" {
		h = textWidth(t, pipeText, false) + 4
	}
	return h + float64(len(l.data.Marks[p.ID])+len(l.data.Marks[also]))*(2*markRadius+1)
}

// turnedLabel writes the texts left of an upright line, from y upwards.
func (l *layout) turnedLabel(i int, x, y float64, also string) (own, others []shape) {
	p := l.data.Pipes[i]
	if t := words("  ", p.Size, p.Slope, p.Label); t != "" {
		s := text(x-5, y, pipeText, start, t)
		s.turned = true
		own = append(own, s)
		y -= textWidth(t, pipeText, false) + 4
	}
	column := func(id string) (out []shape) {
		for _, m := range l.data.Marks[id] {
			y -= markRadius
			out = append(out, shape{kind: marking, mark: m, at: []point{{x - 3 - markRadius, y}}})
			y -= markRadius + 1
		}
		return out
	}
	return append(own, column(p.ID)...), column(also)
}

// deviceWidth is the room of a device along a level line.
func (l *layout) deviceWidth(d Device) float64 {
	return math.Max(2*deviceReach+4, math.Max(textWidth(deviceCode(d.Kind), pipeText, true), l.data.marksWidth(d.ID))) + 6
}

func (l *layout) device(d Device, owner Pipe, c point, upward bool) element {
	e := element{id: d.ID, owner: owner.ID, ends: [2]string{owner.From, owner.To},
		title: words(", ", words(" ", deviceName(d.Kind), d.ID), d.Detail)}
	e.shapes = deviceShapes(d.Kind, c, upward)
	code := text(c.x, c.y+19, pipeText, middle, deviceCode(d.Kind))
	m := l.data.marksWidth(d.ID)
	marks, _ := l.data.marks(d.ID, c.x-m/2, c.y-18)
	if upward {
		code = text(c.x-11, c.y+4, pipeText, end, deviceCode(d.Kind))
		marks, _ = l.data.marks(d.ID, c.x-14-textWidth(code.text, pipeText, true)-m, c.y)
	}
	code.bold = true
	e.shapes = append(append(e.shapes, code), marks...)
	return e
}

// level lays a pipe to the left of the exit, then what flows into it. The
// first lead of it is kept free of texts; it is at least least long.
func (l *layout) level(i int, lead, least float64) *block {
	p := l.data.Pipes[i]
	head := l.headLevel(l.from(i))
	b := &block{}
	zone := l.labelWidth(i)
	for _, d := range p.Devices {
		zone += l.deviceWidth(d)
	}
	tail := math.Max(8, head.room.x1+6)
	length := math.Max(least+math.Max(0, head.room.x1), lead+zone+tail)
	b.put(head, -length, 0)
	e := l.pipeElement(i)
	e.shapes = append(e.shapes, l.pipeLine(i, point{-length, 0}, point{0, 0}))
	// Texts stand at the upstream end of the free stretch, the devices first.
	x := -length + tail
	var devices []element
	for _, d := range p.Devices {
		w := l.deviceWidth(d)
		devices = append(devices, l.device(d, p, point{x + w/2, 0}, false))
		x += w
	}
	e.shapes = append(e.shapes, l.levelLabel(i, x, 0)...)
	e.shapes = append(e.shapes, arrowRight(point{x + l.labelWidth(i)/2, 0}, arrowReach)...)
	b.add(e)
	for _, d := range devices {
		b.add(d)
	}
	return b
}
