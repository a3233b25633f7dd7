package random

import (
	"strconv"
	"strings"
)

const (
	millimetre = 1_000_000 // nm
	sixteenth  = 1_587_500 // nm in 1/16 in
	inch       = 16 * sixteenth
	foot       = 12 * inch
)

// length draws a length between two numbers of inches, on the grid of the
// design: quarters of an inch or 5 mm.
func (g *maker) length(low, high int) int64 {
	if g.metric {
		return int64(g.between(low*5, high*5)) * 5 * millimetre
	}
	return int64(g.between(low*4, high*4)) * inch / 4
}

// around draws a length up or down, of so many inches at most; little is likeliest.
func (g *maker) around(most int) int64 {
	up, down := g.length(0, most), g.length(0, most)
	return up - down
}

// onGrid rounds to the finest length that the design writes.
func (g *maker) onGrid(nm int64) int64 {
	step := int64(sixteenth)
	if g.metric {
		step = millimetre
	}
	if nm < 0 {
		return -((-nm + step/2) / step * step)
	}
	return (nm + step/2) / step * step
}

// write out a length or an elevation, rounded to the grid.
func (g *maker) text(nm int64) string {
	nm = g.onGrid(nm)
	if nm == 0 {
		return map[bool]string{true: "0 mm", false: "0 in"}[g.metric]
	}
	sign := ""
	if nm < 0 {
		sign, nm = "-", -nm
	}
	if g.metric || g.mixed && g.chance(30) {
		return sign + metricText(nm, pick(g, "mm", "mm", "cm", "m"))
	}
	feet, rest := nm/foot, nm%foot
	switch {
	case feet == 0 || g.chance(20):
		return sign + inches(nm)
	case rest == 0:
		return sign + strconv.FormatInt(feet, 10) + " ft"
	}
	return sign + strconv.FormatInt(feet, 10) + " ft " + inches(rest)
}

func inches(nm int64) string {
	whole, part := nm/inch, nm%inch/sixteenth
	if part == 0 {
		return strconv.FormatInt(whole, 10) + " in"
	}
	of := int64(16)
	for part%2 == 0 {
		part, of = part/2, of/2
	}
	text := strconv.FormatInt(part, 10) + "/" + strconv.FormatInt(of, 10) + " in"
	if whole > 0 {
		text = strconv.FormatInt(whole, 10) + "-" + text
	}
	return text
}

func metricText(nm int64, unit string) string {
	per := map[string]int64{"mm": millimetre, "cm": 10 * millimetre, "m": 1000 * millimetre}[unit]
	return decimal(nm, per) + " " + unit
}

// decimal writes n/per exactly; per is a power of ten.
func decimal(n, per int64) string {
	text := strconv.FormatInt(n/per, 10)
	if n%per == 0 {
		return text
	}
	part := strconv.FormatInt(per+n%per, 10)[1:]
	return text + "." + strings.TrimRight(part, "0")
}

// sizeNames has the inch name of the DN numbers that have one.
var sizeNames = map[int]string{
	20: "3/4", 25: "1", 32: "1-1/4", 40: "1-1/2", 50: "2", 65: "2-1/2", 80: "3", 100: "4", 125: "5", 150: "6", 200: "8", 250: "10", 300: "12", 375: "15",
}

// size writes a nominal size.
func (g *maker) size(dn int) string {
	name, ok := sizeNames[dn]
	if !ok || g.metric || g.mixed && g.chance(30) {
		return "DN " + strconv.Itoa(dn)
	}
	if g.chance(3) {
		return "NPS " + name
	}
	return name + " in"
}

var (
	inchSizes   = []int{20, 25, 32, 40, 50, 65, 80, 100, 125, 150, 200, 250, 300, 375}
	metricSizes = []int{20, 25, 32, 40, 50, 56, 60, 70, 75, 80, 90, 100, 125, 150, 200, 225, 250, 300}
)

// sizes lists what the design builds with.
func (g *maker) sizes() []int {
	if g.metric {
		return metricSizes
	}
	return inchSizes
}

// near gives a size, with less care one or two steps away from it.
func (g *maker) near(dn int) int {
	sizes := g.sizes()
	at := 0
	for at < len(sizes)-1 && sizes[at] < dn {
		at++
	}
	if !g.usual() {
		at = min(max(at+pick(g, -2, -1, -1, 1, 2), 0), len(sizes)-1)
	}
	return sizes[at]
}

// slope is a fall in a run, as written and as a fraction.
type slope struct {
	text     string
	num, den int64
}

var (
	inchSlopes = []slope{{"1/4 in/ft", 1, 48}, {"1/4 in/ft", 1, 48}, {"1/8 in/ft", 1, 96}, {"1/8 in/ft", 1, 96}, {"1/2 in/ft", 1, 24},
		{"3/16 in/ft", 1, 64}, {"1:48", 1, 48}, {"2 %", 1, 50}, {"3/8 in/ft", 1, 32}}
	metricSlopes = []slope{{"1 %", 1, 100}, {"2 %", 1, 50}, {"1:50", 1, 50}, {"1:100", 1, 100}, {"20 mm/m", 1, 50}, {"1.5 %", 3, 200}, {"2.5 %", 1, 40}, {"5 %", 1, 20}}
	oddSlopes    = []slope{{"1/16 in/ft", 1, 192}, {"1 in/ft", 1, 12}, {"0 %", 0, 1}, {"-1/8 in/ft", -1, 96}, {"-0.5 %", -1, 200}, {"0.5 %", 1, 200}, {"1:200", 1, 200},
		{"1/64 in/ft", 1, 768}, {"10 %", 1, 10}, {"2 in/ft", 1, 6}, {"3 in/ft", 1, 4}, {"8 in/ft", 2, 3}, {"900 ppm", 9, 10000}}
)

func (g *maker) pitch() slope {
	usual := inchSlopes
	if g.metric {
		usual = metricSlopes
	}
	return either(g, usual, oddSlopes...)
}

// over is the fall of a slope over a length.
func (s slope) over(length int64) int64 { return length / s.den * s.num }

// The quantities below are written in the design's units: of two texts the
// American or the metric one.
func (g *maker) of(american, metric string) string {
	if g.metric || g.mixed && g.chance(30) {
		return metric
	}
	return american
}

// load writes tenths of a load in fixture units, or, where the design works
// with discharge units, in litres a second.
func (g *maker) load(tenths int) string {
	number := decimal(int64(tenths), 10)
	if g.metric && g.chance(60) {
		return number + " L/s"
	}
	return number + " dfu"
}

// flow writes a flow given in tenths of a gallon a minute, metric to the
// millilitre a second.
func (g *maker) flow(tenths int) string {
	return g.of(decimal(int64(tenths), 10)+" gpm", decimal(int64(tenths)*63/10, 1000)+" L/s")
}

func (g *maker) flowByHour(gallons int) string {
	return g.of(strconv.Itoa(gallons)+" gph", decimal(int64(gallons)*38, 10)+" L/h")
}

// weight writes a number of pounds.
func (g *maker) weight(pounds int) string {
	return g.of(strconv.Itoa(pounds)+" lb", strconv.Itoa(pounds*45/100)+" kg")
}

// density writes pounds in a cubic foot.
func (g *maker) density(pounds int) string {
	return g.of(strconv.Itoa(pounds)+" lb/ft3", strconv.Itoa(pounds*16)+" kg/m3")
}

func (g *maker) volume(hundredths int) string {
	return g.of(decimal(int64(hundredths), 100)+" gal", decimal(int64(hundredths)*38, 1000)+" L")
}
