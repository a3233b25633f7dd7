package calcs

import (
	"math"
	"strconv"
	"strings"

	"backpitch/engine/quantity"
)

// measure is a kind of number of the sheet: its unit in each system, and how
// many of them one SI base unit is.
type measure struct {
	us, si         string
	usPart, siPart float64
}

// Conversions exact by definition (NIST SP 811, appendix B).
const (
	foot   = 0.3048
	inch   = 0.0254
	gallon = 231 * inch * inch * inch
	pound  = 0.45359237
	force  = pound * 9.80665 // N in a pound-force
)

var measures = map[string]measure{
	"length":      {"ft", "m", 1 / foot, 1},
	"short":       {"in", "mm", 1 / inch, 1e3},
	"area":        {"in2", "mm2", 1 / (inch * inch), 1e6},
	"flow":        {"gpm", "L/s", 60 / gallon, 1e3},
	"volume":      {"gal", "L", 1 / gallon, 1e3},
	"space":       {"ft3", "m3", 1 / (foot * foot * foot), 1},
	"velocity":    {"ft/s", "m/s", 1 / foot, 1},
	"slope":       {"ft/ft", "m/m", 1, 1},
	"seconds":     {"s", "s", 1, 1},
	"minutes":     {"min", "min", 1.0 / 60, 1.0 / 60},
	"per_hour":    {"1/h", "1/h", 1, 1},
	"force":       {"lb", "kN", 1 / force, 1e-3},
	"unit_weight": {"lb/ft3", "kN/m3", foot * foot * foot / force, 1e-3},
	"viscosity":   {"ft2/s", "m2/s", 1 / (foot * foot), 1},
	"load":        {"units", "units", 1, 1},
	"load_rate":   {"units/gpm", "units/(L/s)", gallon / 60, 1e-3},
	"number":      {"", "", 1, 1},
}

func (m measure) in(s quantity.System) (unit string, part float64) {
	if s == quantity.SI {
		return m.si, m.siPart
	}
	return m.us, m.usPart
}

// significant is how many digits the sheet prints of a number.
const significant = 4

// decimals is how many decimals the sheet prints of a number: four significant
// digits, and never more than the trade reads of a flow (0.1 gpm, 0.001 L/s),
// since flows are kept to the millilitre a second.
func (m measure) decimals(x float64, s quantity.System) int {
	if x == 0 {
		return 0
	}
	most := significant - 1 - int(math.Floor(math.Log10(math.Abs(x))))
	if m.si == "L/s" {
		switch {
		case s == quantity.SI:
			most = min(most, 3)
		case math.Abs(x) >= 1:
			most = min(most, 1)
		}
	}
	return max(0, most)
}

// write is a number in the unit of a system, without zeros that say nothing.
func (m measure) write(si float64, s quantity.System) string {
	_, part := m.in(s)
	x := si * part
	text := strconv.FormatFloat(x, 'f', m.decimals(x, s), 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return text
}
