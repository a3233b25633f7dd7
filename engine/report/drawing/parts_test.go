package drawing

import (
	"math"
	"strings"
	"testing"

	"backpitch/engine/quantity"
)

func TestTicksAreRound(t *testing.T) {
	for _, high := range []float64{0.003, 0.7, 1, 3, 12, 19, 63.6, 70, 100, 950, 12345} {
		a := newAxis("gpm", 1, 0, high)
		power := math.Pow(10, math.Floor(math.Log10(a.step)+1e-9))
		if m := math.Round(a.step / power); m != 1 && m != 2 && m != 5 || math.Abs(a.step/power-m) > 1e-9 {
			t.Errorf("up to %v the step is %v", high, a.step)
		}
		if n := len(a.ticks()); n < 5 || n > 11 || a.high < high-1e-9 {
			t.Errorf("up to %v: %d ticks up to %v", high, n, a.high)
		}
		for _, v := range a.ticks() {
			if s := a.tickText(v); strings.HasPrefix(s, "-") || len(s) > 7 {
				t.Errorf("tick %v prints %q", v, s)
			}
		}
	}
	if a := headAxis(-600000, 3e6, quantity.SI); a.low > -0.6 || a.low != math.Round(a.low/a.step)*a.step {
		t.Errorf("an axis below zero starts at %v", a.low)
	}
	if a := flowAxis(0, quantity.US); !(a.high > a.low) {
		t.Errorf("an axis of nothing is %v to %v", a.low, a.high)
	}
}

func TestSpreadKeepsOrderAndDistance(t *testing.T) {
	wanted := []float64{10, 12, 13, 90, 91, 200}
	heights := []float64{14, 28, 14, 14, 14, 14}
	got := spread(wanted, heights, 0)
	for i := range got {
		if got[i]-heights[i]/2 < -1e-9 {
			t.Errorf("label %d starts at %v", i, got[i]-heights[i]/2)
		}
		if i > 0 && got[i]-heights[i]/2 < got[i-1]+heights[i-1]/2-1e-9 {
			t.Errorf("labels %d and %d overlap: %v", i-1, i, got)
		}
	}
	if got[5] != 200 {
		t.Errorf("a free label moved to %v", got[5])
	}
	if m := (got[3] + got[4]) / 2; math.Abs(m-90.5) > 1e-9 {
		t.Errorf("a pair is not centred: %v", m)
	}
}

func TestClipArea(t *testing.T) {
	triangle := []point{{-5, 5}, {5, 5}, {0, -5}}
	got := clipArea(triangle, box{0, 0, 10, 10})
	area := 0.0
	for i, p := range got {
		q := got[(i+1)%len(got)]
		area += p.x*q.y - q.x*p.y
	}
	// Right half, cut at y = 0 where the half is 2.5 wide: (2.5+5)/2 * 5.
	if math.Abs(math.Abs(area)/2-18.75) > 1e-9 {
		t.Errorf("area %v of %v", math.Abs(area)/2, got)
	}
}

// H = H0 - r Q^c through (0, 40 ft), (40 gpm, 33 ft), (80 gpm, 14 ft) gives c =
// ln(26/7)/ln 2 and 37.17 ft at 24 gpm, worked by hand from the formula of
// three-point curves.
func TestThreePointCurve(t *testing.T) {
	d := PumpData{Model: "three_point", Points: []Point{{0, in(480)}, {gpm(40), in(396)}, {gpm(80), in(168)}}}
	list := d.sampled()
	c := math.Log(26.0/7) / math.Log(2)
	for _, p := range list {
		want := 40 - 7*math.Pow(float64(p.Flow)/float64(gpm(40)), c)
		if got := float64(p.Head) / foot; math.Abs(got-want) > 0.02 {
			t.Errorf("head %v at %v, want %v", got, p.Flow, want)
		}
	}
	d.Points[1].Head = d.Points[0].Head // no such law
	if got := d.sampled(); len(got) != 3 {
		t.Errorf("a curve with no law has %d points", len(got))
	}
}

func TestDescriptionsSayTheContent(t *testing.T) {
	for name, c := range map[string]struct {
		svg  []byte
		want []string
	}{
		"pump":    {PumpChart(demoPump()), []string{"4 stated points", "18.0 ft at 0 gpm", "33.7 gpm at 12.9 ft", "Static head 9.7 ft"}},
		"weak":    {PumpChart(weakPump()), []string{"never meet"}},
		"strong":  {PumpChart(strongPump()), []string{"beyond the last stated point"}},
		"basin":   {BasinSection(demoBasin()), []string{"30 in wide and 42 in deep", "alarm at 22 in", "check valve, union, full-open valve"}},
		"riser":   {Riser(demoRiser()), []string{"5 fixtures, 14 drains, 6 vents and 1 pumped line", "To connection house-drain: 5 fixtures"}},
		"bad":     {Riser(badRiser()), []string{"Not drawn in the tree: 6 pipes"}},
		"strip":   {PumpedSide(demoPumped()), []string{"relief hole, 3/16 in", "; then check valve"}},
		"unknown": {BasinSection(BasinData{}), []string{"not to scale"}},
	} {
		_, desc, _ := strings.Cut(string(c.svg), "<desc")
		desc, _, _ = strings.Cut(desc, "</desc>")
		for _, w := range c.want {
			if !strings.Contains(desc, w) {
				t.Errorf("%s: %q is not in %q", name, w, desc)
			}
		}
	}
}

// Every pipe and node of a design is in its riser, drawn or listed.
func TestNothingIsLost(t *testing.T) {
	for name, d := range map[string]RiserData{"demo": demoRiser(), "bad": badRiser(), "60": building(3, 5, 4)} {
		svg := string(Riser(d))
		for _, p := range d.Pipes {
			if !strings.Contains(svg, `id="`+ElementID(d.Prefix, p.ID)+`"`) {
				t.Errorf("%s: pipe %q is lost", name, p.ID)
			}
			for _, dev := range p.Devices {
				if !strings.Contains(svg, `id="`+ElementID(d.Prefix, dev.ID)+`"`) {
					t.Errorf("%s: device %q is lost", name, dev.ID)
				}
			}
		}
		for id, list := range d.Marks {
			for _, m := range list {
				if m.Href != "" && !strings.Contains(svg, `href="`+m.Href+`"`) {
					t.Errorf("%s: mark %s of %q is lost", name, m.Text, id)
				}
			}
		}
		for _, n := range d.Nodes {
			if !strings.Contains(svg, `id="`+ElementID(d.Prefix, n.ID)+`"`) {
				t.Errorf("%s: node %q is lost", name, n.ID)
			}
		}
	}
}

func BenchmarkRiser60(b *testing.B)   { benchmarkRiser(b, building(3, 5, 4)) }
func BenchmarkRiser2000(b *testing.B) { benchmarkRiser(b, building(4, 6, 9)) }

func benchmarkRiser(b *testing.B, d RiserData) {
	b.ReportAllocs()
	for b.Loop() {
		Riser(d)
	}
	b.ReportMetric(float64(len(d.Nodes)+len(d.Pipes)), "elements")
}

func BenchmarkPumpChart(b *testing.B) {
	for b.Loop() {
		PumpChart(demoPump())
	}
}

func BenchmarkBasinSection(b *testing.B) {
	for b.Loop() {
		BasinSection(demoBasin())
	}
}
