package quantity

import "math/big"

// System is the unit system a report is written in.
type System int

// The unit systems.
const (
	US System = iota
	SI
)

// display says how one kind is shown from a size upwards.
type display struct {
	from     int64 // smallest |n|, fixed units, shown this way
	unit     string
	decimals int
}

// Each list runs from large to small; the last entry has from 0. The limits
// are set so that a larger n never shows as a smaller quantity.
var displays = map[Kind][2][]display{
	Length:        {US: {{0, "in", 3}}, SI: {{999500, "m", 2}, {9950, "mm", 0}, {0, "mm", 1}}},
	Slope:         {US: {{0, "in/ft", 3}}, SI: {{0, "%", 2}}},
	Flow:          {US: {{0, "gpm", 1}}, SI: {{0, "L/s", 2}}},
	Volume:        {US: {{0, "gal", 2}}, SI: {{0, "L", 2}}},
	Velocity:      {US: {{0, "ft/s", 2}}, SI: {{0, "m/s", 2}}},
	Duration:      both(display{7200000, "h", 2}, display{120000, "min", 2}, display{9950, "s", 1}, display{0, "s", 3}),
	Weight:        {US: {{0, "lb", 1}}, SI: {{0, "kg", 1}}},
	Pressure:      {US: {{6861, "psi", 2}, {0, "in w.c.", 1}}, SI: {{1000, "kPa", 2}, {0, "Pa", 0}}},
	Angle:         both(display{0, "°", 3}),
	Load:          both(display{9950, "dfu", 1}, display{0, "dfu", 3}),
	DischargeUnit: both(display{0, "L/s", 3}),
	Ratio:         both(display{0, "%", 2}),
	Factor:        both(display{0, "", 3}),
	Count:         both(display{0, "", 0}),
	Number:        both(display{0, "", 6}),
	LoadPerFlow:   {US: {{0, "dfu/gpm", 3}}, SI: {{0, "dfu/(L/s)", 2}}},
	Area:          {US: {{92439, "ft2", 2}, {0, "in2", 1}}, SI: {{95000, "m2", 2}, {0, "mm2", 0}}},
	Density:       {US: {{0, "lb/ft3", 1}}, SI: {{0, "kg/m3", 1}}},
}

func both(d ...display) [2][]display { return [2][]display{US: d, SI: d} }

// Format writes n fixed units of kind k for people who work in s: a length of
// 1905000 is "6 ft 3 in" or "1.91 m". US lengths are rounded to 1/16 in, the
// rest to what the trade reads. A kind that does not exist gives "".
func Format(k Kind, n int64, s System) string { return render(k, n, s, 0) }

// FormatApart writes two quantities of one kind as [Format] does, with as many
// further digits as it takes for different numbers to look different. It is
// for sentences that set a measured value against its limit.
func FormatApart(k Kind, a, b int64, s System) (string, string) {
	x, y := Format(k, a, s), Format(k, b, s)
	for finer := 2; x == y && a != b && finer <= 6; finer += 2 {
		x, y = render(k, a, s, finer), render(k, b, s, finer)
	}
	return x, y
}

// FormatLimit writes a table cell: "no limit" for Unlimited, "not permitted"
// for 0, and what [Format] gives for the rest.
func FormatLimit(k Kind, n int64, s System) string {
	switch n {
	case Unlimited:
		return noLimit
	case 0:
		return notPermitted
	}
	return Format(k, n, s)
}

// render is Format with finer further decimals.
func render(k Kind, n int64, s System, finer int) string {
	info := kinds[k]
	if info == nil {
		return ""
	}
	if s != SI {
		s = US
	}
	switch {
	case k == Size && s == US:
		return sizeText(n, info.lookup["in"], fraction)
	case k == Size:
		return SizeKey(n)
	case k == Length && s == US && finer == 0:
		if text, ok := sixteenths(n); ok {
			return text
		}
	case k == Slope && s == US && finer == 0:
		if text, ok := sixteenthsPerFoot(n); ok {
			return text
		}
	}
	list := displays[k][s]
	d := list[len(list)-1]
	for _, c := range list {
		if magnitude(n) >= uint64(c.from) {
			d = c
			break
		}
	}
	u := info.lookup[d.unit]
	return u.write(rounded(n, u, d.decimals+finer))
}

// rounded writes n fixed units in u. A quantity too small for the decimals
// gets more, so that only zero shows as zero.
func rounded(n int64, u *unit, decimals int) string {
	r := amount{n: n, d: 1}.times(u.fden, u.fnum)
	for {
		s := trimZeros(r.FloatString(decimals))
		if s == "-0" {
			s = "0"
		}
		if s != "0" || n == 0 || decimals >= 12 {
			return s
		}
		decimals++
	}
}

// sixteenths writes a length in inches below 4 ft and in feet and inches from
// there. It is not ok for a length that rounds to nothing.
func sixteenths(n int64) (string, bool) {
	q, ok := amount{n: n, d: 1}.round(16, 25400)
	if !ok || q == 0 && n != 0 {
		return "", false
	}
	v := Value{kind: Length, unit: kinds[Length].lookup["in"], amt: amount{n: q, d: 16, form: feetFrac}}
	if magnitude(q) < 48*16 {
		v.amt.form = fraction
	}
	return v.String(), true
}

// sixteenthsPerFoot writes a slope that is a multiple of 1/16 in/ft, as far as
// parts per million can tell. Others are left to decimals.
func sixteenthsPerFoot(n int64) (string, bool) {
	// 1/16 in/ft is 1/192.
	q, ok := amount{n: n, d: 1}.round(192, 1e6)
	if !ok {
		return "", false
	}
	back, _ := amount{n: q, d: 192}.round(1e6, 1)
	if back != n || q == 0 && n != 0 {
		return "", false
	}
	return ratText(big.NewRat(q, 16), fraction) + " in/ft", true
}
