package drawing

import "strings"

// Line styles of the three services.
var (
	drainPen  = pen{width: 2}
	ventPen   = pen{width: 1.4, dash: "7 4"}
	pumpedPen = pen{width: 2, dash: "16 4 3 4"}
)

// deviceSigns gives each kind of device its abbreviation and name.
var deviceSigns = map[string][2]string{
	"check_valve":       {"CV", "check valve"},
	"full_open_valve":   {"FV", "full-open valve"},
	"shutoff_valve":     {"SV", "shutoff valve"},
	"union":             {"UN", "union"},
	"cleanout":          {"CO", "cleanout"},
	"backwater_valve":   {"BV", "backwater valve"},
	"reducer":           {"RD", "reducer"},
	"relief_hole":       {"RH", "relief hole"},
	"flexible_coupling": {"FC", "flexible coupling"},
	"trap":              {"TR", "trap in line"},
}

// deviceName is a kind of device in words.
func deviceName(kind string) string {
	if s, ok := deviceSigns[kind]; ok {
		return s[1]
	}
	return strings.ReplaceAll(kind, "_", " ")
}

// deviceCode is the abbreviation printed beside the symbol.
func deviceCode(kind string) string {
	if s, ok := deviceSigns[kind]; ok {
		return s[0]
	}
	return strings.ToUpper(shortWord(kind, 3))
}

func shortWord(s string, n int) string {
	r := []rune(strings.ReplaceAll(s, "_", ""))
	return string(r[:min(n, len(r))])
}

const deviceReach = 7 // half the length and half the height of a device symbol

// deviceShapes draws a device in a pipe; flow goes right, or up where upward.
// The body of a symbol is closed lines over the pipe.
func deviceShapes(kind string, c point, upward bool) []shape {
	const r = deviceReach
	place := func(along, across float64) point {
		if upward {
			return c.plus(across, -along)
		}
		return c.plus(along, across)
	}
	heavy := pen{width: 1.3}
	bow := closed(heavy, place(-r, -5), place(r, 5), place(r, -5), place(-r, 5))
	switch kind {
	case "check_valve":
		return asBody(closed(pen{width: 1.3, fill: "ink"}, place(-r, -5), place(r-1, 0), place(-r, 5)), line(pen{width: 2}, place(r, -6), place(r, 6)))
	case "full_open_valve":
		return asBody(bow, circle(pen{fill: "ink"}, c, 2.6))
	case "shutoff_valve":
		return asBody(bow, line(heavy, c, place(0, -7)))
	case "union":
		return asBody(line(pen{width: 1.6}, place(-3, -6), place(-3, 6)), line(pen{width: 1.6}, place(0, -6), place(0, 6)), line(pen{width: 1.6}, place(3, -6), place(3, 6)))
	case "cleanout":
		return asBody(line(heavy, c, place(0, -5)), closed(pen{width: 1.3, fill: "ink"}, place(-4, -5), place(4, -5), place(4, -7), place(-4, -7)))
	case "backwater_valve":
		return asBody(closed(heavy, place(-r, -6), place(r, -6), place(r, 6), place(-r, 6)), line(pen{width: 1.6}, place(3, -6), place(-3, 6)))
	case "reducer":
		return asBody(closed(heavy, place(-r, -6), place(r, -3), place(r, 3), place(-r, 6)))
	case "relief_hole":
		return asBody(circle(pen{width: 1.2, fill: "ink"}, place(0, -4), 2), line(pen{width: 0.8}, place(0, -6), place(2, -7)))
	case "flexible_coupling":
		return asBody(line(pen{width: 1.6}, place(-6, -5), place(6, -5)), line(pen{width: 1.6}, place(-6, 5), place(6, 5)))
	case "trap":
		return asBody(line(heavy, place(-6, 0), place(-3, 6), place(3, 6), place(6, 0)))
	}
	return asBody(closed(heavy, place(-6, -6), place(6, -6), place(6, 6), place(-6, 6)))
}
