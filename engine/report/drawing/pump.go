package drawing

import (
	"fmt"
	"math"
	"strings"
)

// Point is one point of a curve: flow in mL/s, head in micrometres.
type Point struct {
	Flow int64
	Head int64
}

// Meeting says how pump and system curve meet.
type Meeting string

// The ways to meet.
const (
	Met        Meeting = "met"
	NeverMeet  Meeting = "never"       // the static head is above what the pump reaches
	BeyondLast Meeting = "beyond_last" // they meet past the last stated point, if at all
)

// Operating is one operating point, or the reason there is none.
type Operating struct {
	ID      string // element id for finding marks; may be empty
	Name    string // "one pump, expected loss"
	Meeting Meeting
	At      Point // for BeyondLast the last stated point
}

// PumpData is a pump chart.
type PumpData struct {
	Frame
	ID        string // of the pump
	Name      string // printed: pump "p1"
	Points    []Point
	Model     string  // segments (default) or three_point
	Tolerance float64 // of the head, percent; 0 where none is stated
	Pumps     int     // identical pumps that run in parallel; their common curve is drawn where 2 or more
	Low       []Point // system curve with the least loss
	Expected  []Point
	High      []Point
	Static    *int64 // static head, micrometres
	Operating []Operating
	LeastFlow *int64 // least rate that a rule asks for, mL/s
	LeastName string // "least rate for 2 in, 712.4.2"
}

const (
	chartWidth = 440
	plotLeft   = 52
	plotRight  = 424
	plotTop    = 30
	plotBottom = 290
	smallText  = 12
	bodyText   = 12.5
)

// chart is a pump chart while it is drawn.
type chart struct {
	*sheet
	data   PumpData
	x, y   axis
	paths  [][]point // curves on paper, for letters to keep off
	bands  [][]point
	letter []box
	foot   float64 // where the next line below the plot goes
}

// PumpChart draws pump curve, system curve band and operating points.
func PumpChart(d PumpData) []byte {
	s, height := pumpSheet(d)
	return s.write(chartWidth, height)
}

func pumpSheet(d PumpData) (*sheet, float64) {
	if d.Pumps < 1 {
		d.Pumps = 1
	}
	if d.Title == "" {
		d.Title = words(" ", "Pump and system curve of", words("", d.Name, onlyIf(d.Name == "", "the pump")))
	}
	if d.Desc == "" {
		d.Desc = d.describe()
	}
	c := &chart{sheet: &sheet{frame: d.Frame}, data: d}
	c.scale()
	c.axes()
	c.systemBand()
	c.pumpCurves()
	c.staticLine()
	c.leastLine()
	c.operatingPoints()
	return c.sheet, c.foot + 6
}

func onlyIf(yes bool, s string) string {
	if yes {
		return s
	}
	return ""
}

// describe says the chart in words.
func (d PumpData) describe() string {
	var b strings.Builder
	if n := len(d.Points); n > 0 {
		first, last := d.Points[0], d.Points[n-1]
		fmt.Fprintf(&b, "Pump curve through %s, from %s at %s to %s at %s", count(n, "stated point"),
			headText(first.Head, d.Units), flowText(first.Flow, d.Units), headText(last.Head, d.Units), flowText(last.Flow, d.Units))
		if d.Tolerance > 0 {
			fmt.Fprintf(&b, ", tolerance %s %% of head", number(d.Tolerance))
		}
		b.WriteString(". ")
	} else {
		b.WriteString("No pump curve is stated. ")
	}
	if d.Pumps > 1 {
		fmt.Fprintf(&b, "%d identical pumps in parallel. ", d.Pumps)
	}
	if d.Static != nil {
		fmt.Fprintf(&b, "Static head %s. ", headText(*d.Static, d.Units))
	}
	for _, o := range d.Operating {
		fmt.Fprintf(&b, "%s. ", d.sentence(o))
	}
	if d.LeastFlow != nil {
		fmt.Fprintf(&b, "%s: %s. ", words("", d.LeastName, onlyIf(d.LeastName == "", "Least rate")), flowText(*d.LeastFlow, d.Units))
	}
	return strings.TrimSpace(b.String())
}

// sentence says one operating point with its values.
func (d PumpData) sentence(o Operating) string {
	name := o.Name
	if name == "" {
		name = "operating point"
	}
	switch o.Meeting {
	case NeverMeet:
		return name + ": the curves never meet, the pump cannot lift"
	case BeyondLast:
		return fmt.Sprintf("%s: beyond the last stated point (%s at %s)", name, flowText(o.At.Flow, d.Units), headText(o.At.Head, d.Units))
	}
	return fmt.Sprintf("%s: %s at %s", name, flowText(o.At.Flow, d.Units), headText(o.At.Head, d.Units))
}

// sampled is the pump curve as points close enough to draw: the stated points,
// or H = H0 - r Q^c through three of them (the law package hydraulics solves).
func (d PumpData) sampled() []Point {
	if d.Model != "three_point" || len(d.Points) != 3 {
		return d.Points
	}
	h0, p1, p2 := float64(d.Points[0].Head), d.Points[1], d.Points[2]
	c := math.Log((h0-float64(p2.Head))/(h0-float64(p1.Head))) / math.Log(float64(p2.Flow)/float64(p1.Flow))
	r := (h0 - float64(p1.Head)) / math.Pow(float64(p1.Flow), c)
	if d.Points[0].Flow != 0 || math.IsNaN(r) || math.IsInf(r, 0) || !(c > 0) || !(r > 0) {
		return d.Points
	}
	const n = 48
	out := make([]Point, n+1)
	for i := range out {
		q := float64(p2.Flow) * float64(i) / n
		out[i] = Point{int64(math.Round(q)), int64(math.Round(h0 - r*math.Pow(q, c)))}
	}
	return out
}

// times scales the flow by pumps and the head by a factor.
func times(list []Point, pumps int, head float64) []Point {
	out := make([]Point, len(list))
	for i, p := range list {
		out[i] = Point{p.Flow * int64(pumps), int64(math.Round(float64(p.Head) * head))}
	}
	return out
}

// scale chooses axes that hold the pump curve, the points and the static head.
// The system curve may leave at the top.
func (c *chart) scale() {
	d := c.data
	var maxQ, maxH, minH float64
	see := func(p Point) {
		maxQ, maxH, minH = max(maxQ, float64(p.Flow)), max(maxH, float64(p.Head)), min(minH, float64(p.Head))
	}
	for _, p := range times(d.Points, d.Pumps, 1+d.Tolerance/100) {
		see(p)
	}
	for _, o := range d.Operating {
		see(o.At)
	}
	if d.Static != nil {
		see(Point{Head: *d.Static})
	}
	if d.LeastFlow != nil {
		see(Point{Flow: *d.LeastFlow})
	}
	if len(d.Points) == 0 {
		for _, p := range append(append([]Point{}, d.Expected...), d.High...) {
			see(p)
		}
	}
	for _, p := range d.Expected { // show where it starts, even above the pump
		if p.Flow == 0 {
			see(p)
		}
	}
	c.x = flowAxis(maxQ*1.06, d.Units)
	c.y = headAxis(minH, maxH*1.08, d.Units)
	c.x.from, c.x.to = plotLeft, plotRight
	c.y.from, c.y.to = plotBottom, plotTop
	c.foot = plotBottom + 52
}

// axes draws the frame, a light grid and the numbers.
func (c *chart) axes() {
	grid := pen{width: 0.4, dash: "1 3"}
	for _, v := range c.x.ticks() {
		x := c.x.place(v)
		if v > c.x.low && v < c.x.high {
			c.furniture(line(grid, point{x, plotTop}, point{x, plotBottom}))
		}
		c.furniture(line(pen{}, point{x, plotBottom}, point{x, plotBottom + 5}),
			text(x, plotBottom+17, smallText, middle, c.x.tickText(v)))
	}
	for _, v := range c.y.ticks() {
		y := c.y.place(v)
		if v > c.y.low && v < c.y.high {
			c.furniture(line(grid, point{plotLeft, y}, point{plotRight, y}))
		}
		c.furniture(line(pen{}, point{plotLeft - 5, y}, point{plotLeft, y}),
			text(plotLeft-8, y+4, smallText, end, c.y.tickText(v)))
	}
	c.furniture(rectangle(pen{}, box{plotLeft, plotTop, plotRight, plotBottom}))
	c.furniture(text((plotLeft+plotRight)/2, plotBottom+34, bodyText, middle, "flow, "+c.x.unit))
	c.furniture(text(6, plotTop-12, bodyText, start, "head, "+c.y.unit))
}
