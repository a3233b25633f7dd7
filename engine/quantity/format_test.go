package quantity

import (
	"math"
	"math/rand"
	"slices"
	"testing"
)

// How the trade prints these in each system (common practice).
func TestFormat(t *testing.T) {
	cases := []struct {
		kind   Kind
		n      int64
		us, si string
	}{
		{Length, 457200, "18 in", "457 mm"},
		{Length, 1828800, "6 ft", "1.83 m"},
		{Length, 1905000, "6 ft 3 in", "1.91 m"},
		{Length, 914400, "36 in", "914 mm"},
		{Length, 1066800, "42 in", "1.07 m"},
		{Length, 7620000, "25 ft", "7.62 m"},
		{Length, -1282700, "-4 ft 2-1/2 in", "-1.28 m"},
		{Length, 4762, "3/16 in", "4.8 mm"},
		{Length, 999499, "39-3/8 in", "999 mm"},
		{Length, 999500, "39-3/8 in", "1 m"},
		{Length, 0, "0 in", "0 mm"},
		{Length, 300, "0.012 in", "0.3 mm"},
		{Length, 1, "0.00004 in", "0.001 mm"},
		{Slope, 20833, "1/4 in/ft", "2.08 %"},
		{Slope, 10417, "1/8 in/ft", "1.04 %"},
		{Slope, 20000, "0.24 in/ft", "2 %"},
		{Slope, -10417, "-1/8 in/ft", "-1.04 %"},
		{Slope, 0, "0 in/ft", "0 %"},
		{Size, 80, "3 in", "DN 80"},
		{Size, 40, "1-1/2 in", "DN 40"},
		{Size, 56, "DN 56", "DN 56"},
		{Flow, 1325, "21 gpm", "1.33 L/s"},
		{Volume, 6057, "1.6 gal", "6.06 L"},
		{Volume, 4845, "1.28 gal", "4.85 L"},
		{Velocity, 610, "2 ft/s", "0.61 m/s"},
		{Duration, 20000, "20 s", "20 s"},
		{Duration, 90000, "90 s", "90 s"},
		{Duration, 360000, "6 min", "6 min"},
		{Duration, 86400000, "24 h", "24 h"},
		{Weight, 17237, "38 lb", "17.2 kg"},
		{Pressure, 34474, "5 psi", "34.47 kPa"},
		{Pressure, 498, "2 in w.c.", "498 Pa"},
		{Angle, 45000, "45°", "45°"},
		{Load, 3000, "3 dfu", "3 dfu"},
		{DischargeUnit, 500, "0.5 L/s", "0.5 L/s"},
		{Ratio, 500000, "50 %", "50 %"},
		{Factor, 1250, "1.25", "1.25"},
		{Count, 3, "3", "3"},
		{Number, 13000, "0.013", "0.013"},
		{LoadPerFlow, 31700646, "2 dfu/gpm", "31.7 dfu/(L/s)"},
		{LoadPerFlow, 31700000, "2 dfu/gpm", "31.7 dfu/(L/s)"},
		{Area, 92903, "1 ft2", "92903 mm2"},
		{Area, 645, "1 in2", "645 mm2"},
		{Density, 999552, "62.4 lb/ft3", "999.6 kg/m3"},
		{"colour", 1, "", ""},
	}
	for _, c := range cases {
		if got := Format(c.kind, c.n, US); got != c.us {
			t.Errorf("Format(%s, %d, US) = %q, want %q", c.kind, c.n, got, c.us)
		}
		if got := Format(c.kind, c.n, SI); got != c.si {
			t.Errorf("Format(%s, %d, SI) = %q, want %q", c.kind, c.n, got, c.si)
		}
	}
}

// A larger number never shows as a smaller quantity, nor far from itself.
func TestFormatMonotonicAndClose(t *testing.T) {
	for _, k := range Kinds() {
		if k == Size {
			continue // sizes are names
		}
		for _, s := range []System{US, SI} {
			last := FromFixed(k, 0).Rat()
			for _, n := range samples(k, s) {
				v := mustParse(t, k, Format(k, n, s))
				if v.Rat().Cmp(last) < 0 {
					t.Fatalf("Format(%s, %d) = %q is less than for a smaller number", k, n, v)
				}
				last = v.Rat()
				if off := math.Abs(float64(v.Fixed() - n)); off > 0.5+slack(k, s, n) {
					t.Fatalf("Format(%s, %d) = %q, which is %v off", k, n, v, off)
				}
			}
		}
	}
}

// samples ascend: every small number, each neighbourhood where the unit
// changes, and a scatter of larger ones.
func samples(k Kind, s System) []int64 {
	rng := rand.New(rand.NewSource(2))
	var ns []int64
	for n := int64(0); n < 5000; n++ {
		ns = append(ns, n)
	}
	for range 3000 {
		n := rng.Int63n(3e7)
		ns = append(ns, n, n+1)
	}
	for _, d := range displays[k][s] {
		for n := max(d.from-500, 0); n < d.from+500; n++ {
			ns = append(ns, n)
		}
	}
	slices.Sort(ns)
	return ns
}

// slack is half of the last digit shown, in fixed units.
func slack(k Kind, s System, n int64) float64 {
	if k == Length && s == US {
		return 25400.0 / 32
	}
	for _, d := range displays[k][s] {
		if n >= d.from {
			u := kinds[k].lookup[d.unit]
			return 0.5 * float64(u.fnum) / float64(u.fden) / math.Pow10(d.decimals) * 1.000001
		}
	}
	return 0
}

func TestFormatApart(t *testing.T) {
	cases := []struct {
		kind Kind
		a, b int64
		s    System
		x, y string
	}{
		{Length, 457000, 457200, US, "17.99213 in", "18 in"},
		{Length, 457000, 457200, SI, "457 mm", "457.2 mm"},
		{Length, 457200, 457201, US, "18 in", "18.00004 in"},
		{Length, 406400, 457200, US, "16 in", "18 in"},
		{Length, 457200, 457200, US, "18 in", "18 in"},
		{Slope, 20001, 20000, SI, "2.0001 %", "2 %"},
		{Flow, 1325, 1326, US, "21.002 gpm", "21.018 gpm"},
	}
	for _, c := range cases {
		if x, y := FormatApart(c.kind, c.a, c.b, c.s); x != c.x || y != c.y {
			t.Errorf("FormatApart(%s, %d, %d) = %q, %q; want %q, %q", c.kind, c.a, c.b, x, y, c.x, c.y)
		}
	}
	for _, k := range Kinds() {
		for _, n := range []int64{1, 9999, 20833, 457200, 1828800, 7200001, 1e9} {
			for _, s := range []System{US, SI} {
				if x, y := FormatApart(k, n, n+1, s); x == y {
					t.Errorf("FormatApart(%s, %d, %d) = %q twice", k, n, n+1, x)
				}
			}
		}
	}
}

func TestLimit(t *testing.T) {
	for text, want := range map[string]int64{"no limit": Unlimited, " No Limit ": Unlimited, "not permitted": 0, "5 ft": 1524000} {
		got, err := ParseLimit(Length, text)
		if err != nil || got != want {
			t.Errorf("ParseLimit(%q) = %d, %v; want %d", text, got, err, want)
		}
	}
	if _, err := ParseLimit(Length, "none"); err == nil {
		t.Error(`ParseLimit("none"): want an error`)
	}
	for n, want := range map[int64]string{Unlimited: "no limit", 0: "not permitted", 1524000: "5 ft"} {
		if got := FormatLimit(Length, n, US); got != want {
			t.Errorf("FormatLimit(%d) = %q, want %q", n, got, want)
		}
	}
}

func TestFormatExtremes(t *testing.T) {
	for _, k := range Kinds() {
		for _, n := range []int64{math.MinInt64, math.MaxInt64, -1} {
			for _, s := range []System{US, SI, System(7)} {
				if Format(k, n, s) == "" {
					t.Errorf("Format(%s, %d, %d) is empty", k, n, s)
				}
			}
		}
	}
}
