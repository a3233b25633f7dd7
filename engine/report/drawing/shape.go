package drawing

import "math"

type point struct{ x, y float64 }

func (p point) plus(dx, dy float64) point { return point{p.x + dx, p.y + dy} }

// box is a rectangle with its sides along the axes.
type box struct{ x0, y0, x1, y1 float64 }

func (b box) moved(dx, dy float64) box { return box{b.x0 + dx, b.y0 + dy, b.x1 + dx, b.y1 + dy} }

func (b box) with(o box) box {
	return box{math.Min(b.x0, o.x0), math.Min(b.y0, o.y0), math.Max(b.x1, o.x1), math.Max(b.y1, o.y1)}
}

func (b box) grown(by float64) box { return box{b.x0 - by, b.y0 - by, b.x1 + by, b.y1 + by} }

func (b box) meets(o box) bool {
	return b.x0 < o.x1 && o.x0 < b.x1 && b.y0 < o.y1 && o.y0 < b.y1
}

// shapeKind says how a shape is drawn.
type shapeKind uint8

const (
	stroke  shapeKind = iota // open line through its points
	outline                  // closed line
	ring                     // circle
	label                    // one line of text
	marking                  // a finding mark
)

// pen is how a line looks. The zero pen is a thin solid line with no fill.
type pen struct {
	width float64 // 0: thin
	dash  string
	fill  string // "", "ink" or the name of a hatching
	none  bool   // no line, fill only
}

// anchor says which part of a text stands at its point.
type anchor uint8

const (
	start anchor = iota
	middle
	end
)

var anchorNames = [...]string{start: "", middle: "middle", end: "end"}

// shape is one stroke, circle or text.
type shape struct {
	kind   shapeKind
	at     []point
	r      float64
	pen    pen
	text   string
	size   float64
	anchor anchor
	turned bool // text that reads upwards
	bold   bool
	inner  bool // text inside the symbol it belongs to
	body   bool // part of a symbol: other symbols and texts keep off it
	pipe   bool // a pipe: it may not cross text
	mark   Mark
}

const markRadius = 8.5

// bounds is the room a shape takes.
func (s shape) bounds() box {
	switch s.kind {
	case ring:
		return box{s.at[0].x, s.at[0].y, s.at[0].x, s.at[0].y}.grown(s.r)
	case marking:
		return box{s.at[0].x, s.at[0].y, s.at[0].x, s.at[0].y}.grown(markRadius)
	case label:
		return s.textBounds()
	}
	b := box{s.at[0].x, s.at[0].y, s.at[0].x, s.at[0].y}
	for _, p := range s.at[1:] {
		b = b.with(box{p.x, p.y, p.x, p.y})
	}
	return b
}

// textBounds is the room of a text: from 0.78 of its size above the base line
// to 0.22 below.
func (s shape) textBounds() box {
	w := textWidth(s.text, s.size, s.bold)
	before := map[anchor]float64{start: 0, middle: w / 2, end: w}[s.anchor]
	p := s.at[0]
	if s.turned {
		return box{p.x - 0.78*s.size, p.y - (w - before), p.x + 0.22*s.size, p.y + before}
	}
	return box{p.x - before, p.y - 0.78*s.size, p.x + w - before, p.y + 0.22*s.size}
}

func (s shape) moved(dx, dy float64) shape {
	at := make([]point, len(s.at))
	for i, p := range s.at {
		at[i] = p.plus(dx, dy)
	}
	s.at = at
	return s
}

func line(p pen, at ...point) shape { return shape{kind: stroke, pen: p, at: at} }

func closed(p pen, at ...point) shape { return shape{kind: outline, pen: p, at: at} }

func circle(p pen, c point, r float64) shape {
	return shape{kind: ring, pen: p, at: []point{c}, r: r}
}

func rectangle(p pen, b box) shape {
	return closed(p, point{b.x0, b.y0}, point{b.x1, b.y0}, point{b.x1, b.y1}, point{b.x0, b.y1})
}

func text(x, y, size float64, a anchor, s string) shape {
	return shape{kind: label, at: []point{{x, y}}, size: size, anchor: a, text: s}
}

// asBody marks shapes as the body of a symbol.
func asBody(list ...shape) []shape {
	for i := range list {
		list[i].body = true
	}
	return list
}

// arc returns points of a circle from one angle to another, degrees clockwise
// from the right, for strokes.
func arc(c point, r, from, to float64) []point {
	n := max(2, int(math.Ceil(math.Abs(to-from)/18)))
	out := make([]point, n+1)
	for i := range out {
		a := (from + (to-from)*float64(i)/float64(n)) * math.Pi / 180
		out[i] = point{c.x + r*math.Cos(a), c.y + r*math.Sin(a)}
	}
	return out
}

// element is one thing of the drawing: shapes that share an id.
type element struct {
	id     string // element id as the caller gave it; "" for furniture
	owner  string // id of the pipe a device stands in
	ends   [2]string
	title  string
	shapes []shape
}

// symbolBox is the room of an element's body, if it has one.
func (e element) symbolBox() (box, bool) {
	var b box
	found := false
	for _, s := range e.shapes {
		if !s.body {
			continue
		}
		if found {
			b = b.with(s.bounds())
		} else {
			b, found = s.bounds(), true
		}
	}
	return b, found
}
