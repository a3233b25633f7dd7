package drawing

import (
	"math"
	"strconv"

	"backpitch/engine/quantity"
)

// axis maps values in fixed units to positions along one side of a plot.
type axis struct {
	unit     string  // printed
	perUnit  float64 // fixed units in one printed unit
	low      float64 // printed units at the start
	high     float64
	step     float64
	decimals int
	from, to float64 // drawing units
}

// One US gallon a minute is 63.0901964 mL/s and one foot 304 800 µm (NIST SP
// 811, appendix B.8).
const (
	gallonPerMinute = 63.0901964
	foot            = 304800
)

// flowAxis covers the flows 0 to high, in the units people read.
func flowAxis(high float64, s quantity.System) axis {
	if s == quantity.SI {
		return newAxis("L/s", 1000, 0, high)
	}
	return newAxis("gpm", gallonPerMinute, 0, high)
}

// headAxis covers the heads low to high.
func headAxis(low, high float64, s quantity.System) axis {
	if s == quantity.SI {
		return newAxis("m", 1e6, low, high)
	}
	return newAxis("ft", foot, low, high)
}

// newAxis chooses a round step, 1, 2 or 5 times a power of ten, so that five
// to ten ticks cover low to high.
func newAxis(unit string, perUnit, low, high float64) axis {
	low, high = low/perUnit, high/perUnit
	if !(high > low) || math.IsInf(high-low, 0) {
		high = low + 1
	}
	rough := (high - low) / 8
	power := math.Pow(10, math.Floor(math.Log10(rough)))
	step := 10 * power
	for _, m := range []float64{1, 2, 5} {
		if m*power >= rough*0.999 {
			step = m * power
			break
		}
	}
	a := axis{unit: unit, perUnit: perUnit, step: step}
	a.low = math.Floor(low/step+1e-9) * step
	a.high = math.Ceil(high/step-1e-9) * step
	a.decimals = max(0, int(math.Ceil(-math.Log10(step)-1e-9)))
	return a
}

// at is the position of a value in fixed units.
func (a axis) at(fixed float64) float64 { return a.place(fixed / a.perUnit) }

// place is the position of a value in printed units.
func (a axis) place(v float64) float64 {
	return a.from + (a.to-a.from)*(v-a.low)/(a.high-a.low)
}

// ticks are the values that carry a number, in printed units.
func (a axis) ticks() []float64 {
	n := int(math.Round((a.high - a.low) / a.step))
	out := make([]float64, n+1)
	for i := range out {
		out[i] = a.low + float64(i)*a.step
	}
	return out
}

func (a axis) tickText(v float64) string {
	s := strconv.FormatFloat(v, 'f', a.decimals, 64)
	if f, err := strconv.ParseFloat(s, 64); err == nil && f == 0 {
		return "0"
	}
	return s
}

// headText writes a head as pump makers' curves are read: decimal feet, metres.
func headText(micrometres int64, s quantity.System) string {
	if s == quantity.SI {
		return strconv.FormatFloat(float64(micrometres)/1e6, 'f', 2, 64) + " m"
	}
	return strconv.FormatFloat(float64(micrometres)/foot, 'f', 1, 64) + " ft"
}

func flowText(millilitres int64, s quantity.System) string {
	return quantity.Format(quantity.Flow, millilitres, s)
}

func lengthText(micrometres int64, s quantity.System) string {
	return quantity.Format(quantity.Length, micrometres, s)
}
