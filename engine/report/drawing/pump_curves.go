package drawing

import (
	"fmt"
	"slices"
)

// Line styles of the chart; each tells itself apart without colour.
var (
	pumpPen     = pen{width: 2.4}
	parallelPen = pen{width: 2.4, dash: "14 3"}
	tolerance   = pen{width: 0.8, fill: "rising"}
	expectedPen = pen{width: 1.8, dash: "8 4"}
	systemBand  = pen{width: 0.8, dash: "2 2", fill: "dots"}
	staticPen   = pen{width: 1.2, dash: "10 3 2 3"}
	leastPen    = pen{width: 1.4, dash: "3 3"}
	dropPen     = pen{width: 0.8, dash: "1 2"}
)

// onPaper maps points to the plot and cuts what leaves it.
func (c *chart) onPaper(list []Point) []point {
	var out []point
	all := c.unclipped(list)
	for i := 1; i < len(all); i++ {
		a, b, ok := clip(all[i-1], all[i], box{plotLeft, plotTop, plotRight, plotBottom})
		if !ok {
			continue
		}
		if len(out) == 0 || out[len(out)-1] != a {
			out = append(out, a)
		}
		out = append(out, b)
	}
	return out
}

// unclipped maps points to the paper, in the plot or not.
func (c *chart) unclipped(list []Point) []point {
	out := make([]point, len(list))
	for i, p := range list {
		out[i] = point{c.x.at(float64(p.Flow)), c.y.at(float64(p.Head))}
	}
	return out
}

// curve draws one line and remembers it.
func (c *chart) curve(id, title string, p pen, list []Point) {
	at := c.onPaper(list)
	if len(at) < 2 {
		return
	}
	c.paths = append(c.paths, at)
	c.add(element{id: id, title: title, shapes: []shape{line(p, at...)}})
}

// band draws the area between two curves over the same flows.
func (c *chart) band(title string, p pen, lower, upper []Point) bool {
	low, high := c.onPaper(lower), c.onPaper(upper)
	if len(low) < 2 || len(high) < 2 {
		return false
	}
	area := c.unclipped(lower)
	back := c.unclipped(upper)
	slices.Reverse(back)
	area = clipArea(append(area, back...), box{plotLeft, plotTop, plotRight, plotBottom})
	if len(area) < 3 {
		return false
	}
	c.bands = append(c.bands, area)
	c.paths = append(c.paths, low, high)
	c.add(element{title: title, shapes: []shape{
		closed(pen{none: true, fill: p.fill}, area...),
		line(pen{width: p.width, dash: p.dash}, low...), line(pen{width: p.width, dash: p.dash}, high...)}})
	return true
}

func (c *chart) systemBand() {
	d := c.data
	if c.band("system curve, low to high loss", systemBand, d.Low, d.High) {
		c.key("system curve between low and high loss", func(x, y float64) []shape {
			return []shape{closed(systemBand, point{x, y - 5}, point{x + 34, y - 5}, point{x + 34, y + 5}, point{x, y + 5})}
		})
	}
	if len(d.Expected) > 1 {
		c.curve("", "system curve, expected loss", expectedPen, d.Expected)
		c.lineKey("system curve, expected loss", expectedPen)
	}
}

func (c *chart) pumpCurves() {
	d := c.data
	if len(d.Points) < 2 {
		return
	}
	sampled := d.sampled()
	if d.Tolerance > 0 {
		lower, upper := times(sampled, d.Pumps, 1-d.Tolerance/100), times(sampled, d.Pumps, 1+d.Tolerance/100)
		c.band("tolerance of the pump curve", tolerance, lower, upper)
		c.key(fmt.Sprintf("stated tolerance, %s %% of head", number(d.Tolerance)), func(x, y float64) []shape {
			return []shape{closed(tolerance, point{x, y - 5}, point{x + 34, y - 5}, point{x + 34, y + 5}, point{x, y + 5})}
		})
	}
	c.curve(d.ID, words(" ", "pump curve", d.Name), pumpPen, sampled)
	name := "pump curve through stated points"
	if d.Pumps > 1 {
		name = "curve of one pump through stated points"
	}
	var dots []shape
	for _, p := range d.Points {
		dots = append(dots, circle(pen{fill: "ink"}, point{c.x.at(float64(p.Flow)), c.y.at(float64(p.Head))}, 2.6))
	}
	c.furniture(dots...)
	c.key(name, func(x, y float64) []shape {
		return []shape{line(pumpPen, point{x, y}, point{x + 34, y}), circle(pen{fill: "ink"}, point{x + 17, y}, 2.6)}
	})
	if d.Pumps > 1 {
		c.curve("", fmt.Sprintf("%d pumps in parallel", d.Pumps), parallelPen, times(sampled, d.Pumps, 1))
		c.lineKey(fmt.Sprintf("%d pumps in parallel", d.Pumps), parallelPen)
	}
}

func (c *chart) staticLine() {
	if c.data.Static == nil {
		return
	}
	y := c.y.at(float64(*c.data.Static))
	at := []point{{plotLeft, y}, {plotRight, y}}
	c.paths = append(c.paths, at)
	c.add(element{title: "static head", shapes: []shape{line(staticPen, at...)}})
	c.lineKey("static head, "+headText(*c.data.Static, c.data.Units), staticPen)
}

func (c *chart) leastLine() {
	d := c.data
	if d.LeastFlow == nil {
		return
	}
	x := c.x.at(float64(*d.LeastFlow))
	at := []point{{x, plotBottom}, {x, plotTop}}
	c.paths = append(c.paths, at)
	name := d.LeastName
	if name == "" {
		name = "least rate"
	}
	c.add(element{title: name, shapes: []shape{line(leastPen, at...)}})
	c.lineKey(name+": "+flowText(*d.LeastFlow, d.Units), leastPen)
}

// operatingPoints marks each point with a letter, drops lines to the axes and
// writes the values below the plot.
func (c *chart) operatingPoints() {
	for i, o := range c.data.Operating {
		name := string(rune('A' + i%26))
		if o.Meeting == NeverMeet {
			name = "none"
		}
		var shapes []shape
		at := point{c.x.at(float64(o.At.Flow)), c.y.at(float64(o.At.Head))}
		switch o.Meeting {
		case Met:
			shapes = append(shapes, line(dropPen, point{at.x, plotBottom}, at, point{plotLeft, at.y}),
				circle(pen{width: 1.8}, at, 5), circle(pen{fill: "ink"}, at, 1.5))
		case BeyondLast:
			shapes = append(shapes, line(pen{width: 1.8}, at.plus(-5, -5), at.plus(5, 5)), line(pen{width: 1.8}, at.plus(-5, 5), at.plus(5, -5)),
				line(pen{width: 1.4}, at.plus(8, 0), at.plus(20, 0)), closed(pen{fill: "ink"}, at.plus(20, -3), at.plus(27, 0), at.plus(20, 3)))
		}
		if o.Meeting != NeverMeet {
			c.letter = append(c.letter, box{at.x - 7, at.y - 7, at.x + 7, at.y + 7})
			if o.Meeting == BeyondLast {
				c.letter = append(c.letter, box{at.x, at.y - 6, at.x + 30, at.y + 6})
			}
			shapes = append(shapes, c.callout(at, name)...)
		}
		c.foot += 4
		shapes = append(shapes, c.valueLine(name, o)...)
		c.add(element{id: o.ID, title: c.data.sentence(o), shapes: shapes})
	}
	if marks, w := c.frame.marks(c.data.ID, 0, 0); w > 0 {
		x := float64(plotRight) - w
		for i := range marks {
			marks[i] = marks[i].moved(x, plotTop-16)
		}
		c.furniture(marks...)
	}
}

// valueLine writes an operating point below the plot, its letter in front and
// its finding marks behind the words.
func (c *chart) valueLine(name string, o Operating) []shape {
	letter := text(21, c.foot+4, smallText, middle, name)
	letter.bold = true
	shapes := []shape{letter}
	marks := c.frame.marksWidth(o.ID)
	lines := wrap(c.data.sentence(o), bodyText, chartWidth-48-marks-14)
	for i, l := range lines {
		shapes = append(shapes, text(48, c.foot+4+float64(i)*15, bodyText, start, l))
	}
	if marks > 0 && len(lines) > 0 {
		row, _ := c.frame.marks(o.ID, 48+textWidth(lines[0], bodyText, false)+6, c.foot)
		shapes = append(shapes, row...)
	}
	c.foot += float64(max(1, len(lines)))*15 + 3
	return shapes
}

// lineKey adds a line of the legend for a line style.
func (c *chart) lineKey(name string, p pen) {
	c.key(name, func(x, y float64) []shape { return []shape{line(p, point{x, y}, point{x + 34, y})} })
}

// key adds a line of the legend.
func (c *chart) key(name string, sample func(x, y float64) []shape) {
	shapes := sample(6, c.foot)
	for i, l := range wrap(name, bodyText, chartWidth-60) {
		shapes = append(shapes, text(48, c.foot+4+float64(i)*15, bodyText, start, l))
		if i > 0 {
			c.foot += 15
		}
	}
	c.furniture(shapes...)
	c.foot += 17
}

// callout puts the letter near its point where no curve runs.
func (c *chart) callout(at point, name string) []shape {
	const r = 8
	best, bestCost := at.plus(16, -16), 1e9
	for _, far := range []float64{18, 26, 36, 48, 62} {
		for i := range 16 {
			p := arc(at, far, float64(i)*22.5+292.5, 0)[0]
			cost := far + c.trouble(box{p.x, p.y, p.x, p.y}.grown(r+2))
			if cost < bestCost {
				best, bestCost = p, cost
			}
		}
	}
	dx, dy := best.x-at.x, best.y-at.y
	far := distance(at, best)
	letter := text(best.x, best.y+4, smallText, middle, name)
	letter.bold, letter.inner = true, true
	c.letter = append(c.letter, box{best.x, best.y, best.x, best.y}.grown(r+1))
	return append(asBody(circle(pen{}, best, r)), letter,
		line(pen{width: 0.6}, at.plus(dx*6/far, dy*6/far), at.plus(dx*(far-r)/far, dy*(far-r)/far)))
}

// trouble is how badly a box lies: over lines, other letters or the edge.
func (c *chart) trouble(b box) float64 {
	cost := 0.0
	if b.x0 < plotLeft || b.x1 > plotRight || b.y0 < plotTop || b.y1 > plotBottom {
		cost += 10000
	}
	for _, o := range c.letter {
		if b.meets(o) {
			cost += 5000
		}
	}
	for _, path := range c.paths {
		for i := 1; i < len(path); i++ {
			if _, _, hit := clip(path[i-1], path[i], b); hit {
				cost += 1000
				break
			}
		}
	}
	for _, area := range c.bands {
		if inside(point{(b.x0 + b.x1) / 2, (b.y0 + b.y1) / 2}, area) {
			cost += 300
		}
	}
	return cost
}
