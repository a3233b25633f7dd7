package quantity

import (
	"fmt"
	"strconv"
)

// NominalSize is one listed pipe size. Inch is its nominal inch size as the
// trade writes it ("1-1/2"), or "" where only the metric name is in use.
type NominalSize struct {
	DN   int64
	Inch string
}

// nominal pairs a DN number with the inch size in eighths; 0 means none.
type nominal struct {
	dn, eighths int64
}

// Inch pairs as ISO 6708 and the usual NPS tables give them; 15 in is DN 375,
// a drainage and sewer size (common practice). DN 30, 56, 60, 70, 75, 90 and
// 225 are the metric names used with EN 12056-2 (from memory).
var nominals = []nominal{
	{10, 3}, {15, 4}, {20, 6}, {25, 8}, {30, 0}, {32, 10}, {40, 12}, {50, 16}, {56, 0}, {60, 0},
	{65, 20}, {70, 0}, {75, 0}, {80, 24}, {90, 0}, {100, 32}, {125, 40}, {150, 48}, {200, 64},
	{225, 0}, {250, 80}, {300, 96}, {375, 120},
}

// Sizes returns the listed nominal sizes, smallest first. The slice is fresh.
func Sizes() []NominalSize {
	out := make([]NominalSize, len(nominals))
	for i, s := range nominals {
		out[i] = NominalSize{DN: s.dn}
		if s.eighths > 0 {
			out[i].Inch = inchText(s.eighths, fraction)
		}
	}
	return out
}

// SizeKey returns the name of a size in tables and facts: "DN 80".
func SizeKey(dn int64) string { return "DN " + strconv.FormatInt(dn, 10) }

func inchText(eighths int64, f form) string {
	return amount{n: eighths, d: 8, form: f}.text(f)
}

// eighthsOf returns the inch size of a DN number in eighths, or 0.
func eighthsOf(dn int64) int64 {
	for _, s := range nominals {
		if s.dn == dn {
			return s.eighths
		}
	}
	return 0
}

// sizeText writes a DN number in the size unit u.
func sizeText(dn int64, u *unit, f form) string {
	e := eighthsOf(dn)
	switch {
	case u.symbol == "DN" || e == 0:
		return SizeKey(dn)
	case u.symbol == "NPS":
		return "NPS " + inchText(e, f)
	}
	return inchText(e, f) + " in"
}

// listed finds the nominal size written as a in unit u ("DN", "NPS", "in").
func listed(a amount, u *unit) (dn int64, ok bool) {
	const most = 1 << 32 // no listed size is near it, and products stay small
	if a.wide != nil || a.n > most || a.d > most {
		return 0, false
	}
	for _, s := range nominals {
		if u.symbol == "DN" && a.n == s.dn*a.d {
			return s.dn, true
		}
		if u.symbol != "DN" && s.eighths > 0 && a.n*8 == s.eighths*a.d {
			return s.dn, true
		}
	}
	return 0, false
}

// nearest is the hint for a size that is not listed: the ones beside it.
func nearest(a amount, u *unit) string {
	want, _ := a.rat().Float64()
	var below, above string
	for _, s := range nominals {
		at := float64(s.dn)
		if u.symbol != "DN" {
			if s.eighths == 0 {
				continue
			}
			at = float64(s.eighths) / 8
		}
		name := sizeText(s.dn, u, fraction)
		if at <= want {
			below = name
		} else if above == "" {
			above = name
		}
	}
	switch {
	case below == "":
		return fmt.Sprintf("the smallest listed size is %q", above)
	case above == "":
		return fmt.Sprintf("the largest listed size is %q", below)
	}
	return fmt.Sprintf("the nearest listed sizes are %q and %q", below, above)
}
