package drawing

import (
	"cmp"
	"math"
	"slices"

	"backpitch/engine/quantity"
)

// levels draws the switching levels and the volumes between them.
func (s *section) levels() {
	d, m := s.data, s.middle
	below := s.floor
	for i, l := range d.Levels {
		y := s.y(l.Height)
		s.add(element{title: string(l.Kind) + " level", shapes: []shape{
			line(pen{width: 1.1, dash: levelDash[l.Kind]}, point{m - s.half, y}, point{m + s.half, y})}})
		name := string(l.Kind) + ", " + lengthText(l.Height, d.Units)
		s.right = append(s.right, tag{at: point{m + s.half, y}, id: l.ID, lines: nonEmpty(name, s.elevation(l.Height))})
		if l.Volume != nil {
			s.volume(*l.Volume, m-s.half+5, below, y)
		}
		if i == 0 || l.Height > d.Levels[i-1].Height {
			below = y
		}
	}
	if len(d.Levels) > 0 { // water stands at the lowest level
		y := s.y(d.Levels[0].Height)
		for k := 1; k <= 3; k++ {
			w := s.half * 0.4 / float64(k)
			if yy := y + float64(k)*3; yy < s.floor-14 {
				s.furniture(line(pen{width: 0.6}, point{m - w, yy}, point{m + w, yy}))
			}
		}
	}
}

// volume writes the volume between two levels between their lines, or beside
// the section where there is no room.
func (s *section) volume(ml int64, x, below, above float64) {
	t := quantity.Format(quantity.Volume, ml, s.data.Units)
	y := (below + above) / 2
	arrow := []shape{line(pen{width: 0.7}, point{x + 2, below - 1}, point{x + 2, above + 1}),
		line(pen{width: 0.7}, point{x, above + 5}, point{x + 2, above + 1}, point{x + 4, above + 5}),
		line(pen{width: 0.7}, point{x, below - 5}, point{x + 2, below - 1}, point{x + 4, below - 5})}
	if below-above < 14 {
		arrow = arrow[:1]
	}
	free := s.pumpX() - 4 // the riser, and the pumps where they stand as high
	if r := s.pumpRadius(); y+6 > s.floor-2*r {
		free -= float64(len(s.data.Pumps)) * (2*r + 5)
	}
	if below-above >= 14 && x+8+textWidth(t, labelText, false) < free {
		s.furniture(append(arrow, text(x+8, y+4.5, labelText, start, t))...)
		return
	}
	s.furniture(arrow...)
	s.left = append(s.left, tag{at: point{x + 2, y}, lines: []string{t}})
}

func (s *section) inletStub() {
	i := s.data.Inlet
	if i == nil {
		return
	}
	bore := math.Max(6, float64(i.Diameter)*s.scale)
	x0, x1, y := s.dimensionX()+8, s.middle-s.half, s.y(i.Height)
	s.add(element{id: i.ID, title: i.name(), shapes: append(arrowRight(point{x0 + 7, y - bore/2}, 5),
		line(pen{width: 1.2}, point{x0, y}, point{x1, y}), line(pen{width: 1.2}, point{x0, y - bore}, point{x1, y - bore}))})
	s.left = append(s.left, tag{at: point{x0, y - bore/2}, id: i.ID, lines: nonEmpty(i.name(), "invert "+lengthText(i.Height, s.data.Units), s.elevation(i.Height))})
}

func arrowRight(at point, r float64) []shape {
	return []shape{closed(pen{fill: "ink", width: 0.5}, at.plus(-r, -r*0.7), at.plus(r, 0), at.plus(-r, r*0.7))}
}

func arrowUp(at point, r float64) []shape {
	return []shape{closed(pen{fill: "ink", width: 0.5}, at.plus(-r*0.7, r), at.plus(0, -r), at.plus(r*0.7, r))}
}

func (s *section) ventStub() {
	v := s.data.Vent
	if v == nil {
		return
	}
	x := s.middle - s.half*0.55
	s.add(element{id: v.ID, title: v.Name, shapes: append(arrowUp(point{x, 26}, 5),
		line(ventPen, point{x, s.cover + 5}, point{x, 31}))})
	s.left = append(s.left, tag{at: point{x, 44}, id: v.ID, lines: []string{v.Name}})
}

// dischargeStub draws the pumped line with its devices in order of flow; above
// the cover it is not to scale.
func (s *section) dischargeStub() {
	p := s.data.Discharge
	if p == nil {
		return
	}
	x := s.pumpX()
	s.add(element{id: p.ID, title: p.Name, shapes: append(arrowUp(point{x, 20}, 6),
		line(pumpedPen, point{x, s.floor - 2*s.pumpRadius() - 1}, point{x, 26}))})
	s.right = append(s.right, tag{at: point{x, 36}, id: p.ID, lines: []string{p.Name}})
	inside, y := s.floor-2*s.pumpRadius()-14, s.cover-22.0
	for _, dev := range p.Devices {
		c := point{x, y}
		if dev.Inside {
			c = point{x, inside}
			inside -= 22
		} else {
			y -= deviceStep
		}
		e := element{id: dev.ID, owner: p.ID, title: deviceName(dev.Kind)}
		e.shapes = deviceShapes(dev.Kind, c, true)
		s.add(e)
		t := words(", ", deviceName(dev.Kind), dev.Detail)
		s.right = append(s.right, tag{at: c.plus(9, 0), id: dev.ID, lines: []string{t}})
	}
}

// dimensionX is where the depth is measured.
func (s *section) dimensionX() float64 {
	return math.Min(s.middle-s.half-s.wall-22, s.middle-s.slabHalf) - 8
}

// dimensions measures depth and inside width where they are known.
func (s *section) dimensions() {
	if !s.known {
		return
	}
	d, x := s.data, s.dimensionX()
	thinPen := pen{width: 0.6}
	tick := func(p point) shape { return line(pen{width: 1.2}, p.plus(-3, 3), p.plus(3, -3)) }
	at := text(x-4, s.freeOfLeaders(), labelText, middle, lengthText(*d.Depth, d.Units))
	at.turned = true
	s.furniture(line(thinPen, point{x, s.cover}, point{x, s.floor}), tick(point{x, s.cover}), tick(point{x, s.floor}),
		line(thinPen, point{x - 5, s.cover}, point{s.middle - s.half - s.wall - 6, s.cover}),
		line(thinPen, point{x - 5, s.floor}, point{s.middle - s.half - s.wall - 2, s.floor}), at)
	y := s.bottom() + 14
	name := lengthText(*d.Width, d.Units) + " inside"
	if d.Round {
		name = lengthText(*d.Width, d.Units) + " inside diameter"
	}
	l, r := s.middle-s.half, s.middle+s.half
	s.furniture(line(thinPen, point{l, y}, point{r, y}), tick(point{l, y}), tick(point{r, y}),
		line(thinPen, point{l, s.bottom() + 3}, point{l, y + 5}), line(thinPen, point{r, s.bottom() + 3}, point{r, y + 5}),
		text(s.middle, y+16, labelText, middle, name))
}

// freeOfLeaders is the middle of the widest stretch of the depth dimension that
// no leader of the left column crosses.
func (s *section) freeOfLeaders() float64 {
	ys := []float64{s.cover, s.floor}
	for _, t := range s.left {
		if t.at.y > s.cover && t.at.y < s.floor {
			ys = append(ys, t.at.y)
		}
	}
	slices.Sort(ys)
	best, gap := (s.cover+s.floor)/2, 0.0
	for i := 1; i < len(ys); i++ {
		if ys[i]-ys[i-1] > gap+1e-6 {
			best, gap = (ys[i]+ys[i-1])/2, ys[i]-ys[i-1]
		}
	}
	return best
}

// bottom is the lowest line of the section.
func (s *section) bottom() float64 {
	y := s.floor + s.wall
	if s.data.Slab != nil {
		y += float64(s.data.Slab.Thickness) * s.scale
	}
	return y
}

// labels spreads the tags of both sides so that none overlaps and draws their
// leader lines; it returns the lowest line used.
func (s *section) labels() float64 {
	low := s.bottom() + 36
	if d := s.data; d.Inlet != nil || d.Vent != nil || len(s.left) > 0 {
		low = max(low, s.column(s.left, leftColumn, end))
	}
	return max(low, s.column(s.right, rightColumn, start))
}

// column spreads and draws the tags of one side.
func (s *section) column(tags []tag, x float64, a anchor) float64 {
	slices.SortStableFunc(tags, func(a, b tag) int { return cmp.Compare(a.at.y, b.at.y) })
	wanted, heights := make([]float64, len(tags)), make([]float64, len(tags))
	for i := range tags {
		t := &tags[i]
		var lines []string
		for _, l := range t.lines {
			lines = append(lines, wrap(l, labelText, columnRoom(a))...)
		}
		t.lines = lines
		rows := float64(len(lines))
		if s.marksBelow(*t, a) {
			rows += 1.3
		}
		wanted[i], heights[i] = t.at.y, rows*labelLine+5
	}
	low := 0.0
	for i, y := range spread(wanted, heights, 4) {
		s.tag(tags[i], x, y-heights[i]/2, a)
		low = max(low, y+heights[i]/2)
	}
	return low
}

// columnRoom is how wide the labels of a side may be.
func columnRoom(a anchor) float64 {
	if a == end {
		return leftColumn - 4
	}
	return basinWidth - rightColumn - 4
}

// marksBelow reports whether the marks of a label need a row of their own.
func (s *section) marksBelow(t tag, a anchor) bool {
	w := s.frame.marksWidth(t.id)
	return w > 0 && (a == end || len(t.lines) == 0 || textWidth(t.lines[0], labelText, false)+4+w > columnRoom(a))
}

// tag draws one label from a top line down, its marks and its leader.
func (s *section) tag(t tag, x, top float64, a anchor) {
	y := top + 2.5 + 11
	var shapes []shape
	for i, l := range t.lines {
		shapes = append(shapes, text(x, y+float64(i)*labelLine, labelText, a, l))
	}
	width := s.frame.marksWidth(t.id)
	switch {
	case s.marksBelow(t, a):
		at := point{x, y + float64(len(t.lines))*labelLine}
		if a == end {
			at.x -= width
		}
		m, _ := s.frame.marks(t.id, at.x, at.y)
		shapes = append(shapes, m...)
	case width > 0:
		m, _ := s.frame.marks(t.id, x+textWidth(t.lines[0], labelText, false)+4, y-4)
		shapes = append(shapes, m...)
	}
	leader := []point{t.at, {rightColumn - 13, t.at.y}, {rightColumn - 4, y - 4}}
	if a == end {
		leader = []point{t.at, {leftColumn + 13, t.at.y}, {leftColumn + 4, y - 4}}
	}
	s.furniture(append(shapes, line(pen{width: 0.5}, leader...))...)
}

// notes writes what belongs to the whole section below it.
func (s *section) notes(y float64) float64 {
	list := s.data.Notes
	if !s.known {
		list = append([]string{"Width or depth is not stated: the section is not to scale."}, list...)
	} else {
		list = append([]string{"To scale from slab to cover; above the cover not to scale."}, list...)
	}
	y += 8
	for _, n := range list {
		for _, l := range wrap(n, labelText, basinWidth-16) {
			y += labelLine + 1
			s.furniture(text(6, y, labelText, start, l))
		}
	}
	return y + 8
}
