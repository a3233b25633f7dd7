package quantity

import (
	"errors"
	"math"
	"math/big"
	"math/rand"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func mustParse(t *testing.T, k Kind, text string) Value {
	t.Helper()
	v, err := Parse(k, text)
	if err != nil {
		t.Fatalf("Parse(%s, %q): %v", k, text, err)
	}
	return v
}

// Exact conversions. The source stands beside each group.
func TestParseExact(t *testing.T) {
	cases := []struct {
		kind Kind
		text string
		want string // SI base, as big.Rat reads it
	}{
		// NIST SP 811 (2008) B.6: 1 in = 25.4 mm, 1 ft = 0.3048 m, exactly.
		{Length, "1 in", "0.0254"},
		{Length, "1 ft", "0.3048"},
		{Length, "1-1/2 in", "0.0381"},
		{Length, "3 ft 6 in", "1.0668"},
		{Length, "-4 ft 2-1/2 in", "-1.2827"},
		{Length, "457 mm", "0.457"},
		{Length, "30 cm", "0.3"},
		// Long numbers are decimal, leading zeros or not.
		{Length, "8/10000000001 m", "8/10000000001"},
		{Length, "012/010000000001 m", "12/10000000001"},
		{Length, "010.000000000000000000001 m", "10.000000000000000000001"},
		{Length, "1.5 m", "1.5"},
		// A foot is 12 inches, so 1/4 in per foot is 1 in 48 (common practice).
		{Slope, "1/4 in/ft", "1/48"},
		{Slope, "1/8 in/ft", "1/96"},
		{Slope, "-1/8 in/ft", "-1/96"},
		{Slope, "1 in 48", "1/48"},
		{Slope, "1:57.5", "2/115"},
		{Slope, "2 %", "1/50"},
		{Slope, "20 mm/m", "1/50"},
		{Slope, "2 cm/m", "1/50"},
		// NIST Handbook 44 appendix C: 1 US gal = 231 in3 exactly, which is
		// 3.785411784 L.
		{Volume, "1 gal", "0.003785411784"},
		{Volume, "231 in3", "0.003785411784"},
		{Volume, "1 ft3", "0.028316846592"},
		{Volume, "6 L", "0.006"},
		{Flow, "60 gpm", "0.003785411784"},
		{Flow, "3600 gph", "0.003785411784"},
		{Flow, "1.3 L/s", "0.0013"},
		{Flow, "90 L/min", "0.0015"},
		{Flow, "3.6 m3/h", "0.001"},
		{Flow, "1 cfs", "0.028316846592"},
		// NIST SP 811 B.8: 1 lb = 0.45359237 kg exactly; 16 oz to the pound.
		{Weight, "1 lb", "0.45359237"},
		{Weight, "16 oz", "0.45359237"},
		{Weight, "17 kg", "17"},
		// NIST SP 811 B.8, conventional water column: 9806.65 Pa a metre.
		{Pressure, "1 mm w.c.", "9.80665"},
		{Pressure, "1 in w.c.", "249.08891"},
		{Pressure, "1 ft w.c.", "2989.06692"},
		{Pressure, "1 mbar", "100"},
		{Velocity, "2 ft/s", "0.6096"},
		{Duration, "6 min", "360"},
		{Duration, "2 h", "7200"},
		{Angle, "45°", "45"},
		{Angle, "22.5 deg", "22.5"},
		{Load, "0.5 dfu", "0.5"},
		{DischargeUnit, "0.5 L/s", "0.0005"},
		{LoadPerFlow, "31.7 dfu/(L/s)", "31700"},
		{Ratio, "50 %", "0.5"},
		{Factor, "1.25", "1.25"},
		{Count, "3", "3"},
		{Number, "0.013", "0.013"},
		{Area, "1 in2", "0.00064516"},
		{Area, "1 sq ft", "0.09290304"},
		{Density, "1000 kg/m3", "1000"},
	}
	for _, c := range cases {
		want, ok := new(big.Rat).SetString(c.want)
		if !ok {
			t.Fatalf("bad expectation %q", c.want)
		}
		v := mustParse(t, c.kind, c.text)
		if v.Rat().Cmp(want) != 0 {
			t.Errorf("Parse(%s, %q) = %s, want %s", c.kind, c.text, v.Rat().RatString(), c.want)
		}
		if f, _ := want.Float64(); v.SI() != f {
			t.Errorf("%q SI = %v, want %v", c.text, v.SI(), f)
		}
	}
}

// Rounded published factors, to the digits they are printed with.
func TestParsePublished(t *testing.T) {
	cases := []struct {
		kind Kind
		text string
		want float64
		tol  float64
	}{
		{Pressure, "1 psi", 6894.757, 5e-4},        // NIST SP 811 B.8
		{Pressure, "1 in Hg", 3386.389, 5e-4},      // NIST SP 811 B.8, conventional
		{Flow, "1 gpm", 6.309020e-5, 5e-12},        // NIST SP 811 B.8
		{Density, "1 lb/ft3", 16.01846, 5e-6},      // NIST SP 811 B.8
		{Density, "62.4 lb/ft3", 1000, 1},          // water, common practice
		{LoadPerFlow, "2 dfu/gpm", 31.7e3, 0.05e3}, // the same rule in US and metric codes, from memory
		{Length, "39.37 in", 1, 1e-4},              // metre in inches, common practice
		{Volume, "264.172 gal", 1, 1e-5},           // cubic metre, NIST Handbook 44
		{Flow, "15.850 gpm", 0.001, 1e-7},          // 1 L/s, from memory
		{Pressure, "27.68 in w.c.", 6894.757, 1},   // 1 psi, common practice
		{Velocity, "2 ft/s", 0.61, 0.005},          // scouring velocity as metric codes print it
		{Weight, "2.204623 lb", 1, 5e-7},           // NIST Handbook 44
	}
	for _, c := range cases {
		if got := mustParse(t, c.kind, c.text).SI(); math.Abs(got-c.want) > c.tol {
			t.Errorf("%s %q = %v, want %v within %v", c.kind, c.text, got, c.want, c.tol)
		}
	}
}

// Every spelling of a line is the same quantity; the last field is canonical.
func TestSpellings(t *testing.T) {
	cases := []struct {
		kind  Kind
		texts []string
		canon string
	}{
		{Length, []string{"1-1/2 in", "1 1/2 in", "1½ in", "1 ½ in", "1-½ in", `1-1/2"`, "1-1/2″", "1½”", "1-1/2 inches", "1-1/2in.", "1–1/2 IN", "+1-1/2 in", "3/2 in", "1-2/4 in", " 1-1/2\u00a0in "}, "1-1/2 in"},
		{Length, []string{"1.5 in", "1.50 in", "01.5 in", `1.5"`}, "1.5 in"},
		{Length, []string{".5 in", "0.5 in"}, "0.5 in"},
		{Length, []string{`3'-6"`, `3' 6"`, `3'6"`, "3 ft 6 in", "3ft6in", "3 ft. 6 in.", "3 feet 6 inches", "3′-6″", "3’-6”", "3 ft - 6 in"}, "3 ft 6 in"},
		{Length, []string{`-4'-2 1/2"`, "-4 ft 2-1/2 in", "−4 ft 2½ in", "- 4 ft 2-1/2 in"}, "-4 ft 2-1/2 in"},
		{Length, []string{"3 ft 6.5 in"}, "3 ft 6.5 in"},
		{Length, []string{`3'-0"`, "3 ft 0 in", "3 ft", "3'", "3 foot"}, "3 ft"},
		{Length, []string{`0'-6"`, "6 in"}, "6 in"},
		{Length, []string{"-0 in", "0 in"}, "0 in"},
		{Slope, []string{"1/4 in/ft", "1/4 in per ft", "1/4 in. per foot", `1/4" per ft`, `¼"/ft`, "¼ inch / foot", `1/4"/'`}, "1/4 in/ft"},
		{Slope, []string{"1:48", "1 : 48", "1 in 48", "2:96", "1 IN 48", "1/2:24"}, "1:48"},
		{Slope, []string{"-1:50"}, "-1:50"},
		{Slope, []string{"3:7"}, "3:7"},
		{Slope, []string{"2 %", "2%", "2.0 %", "2 percent"}, "2 %"},
		{Size, []string{"DN 50", "DN50", "dn 50"}, "DN 50"},
		{Size, []string{"NPS 2", "nps2"}, "NPS 2"},
		{Size, []string{"NPS 1-1/2", "NPS 1½"}, "NPS 1-1/2"},
		{Size, []string{"2 in", `2"`, "2 inch"}, "2 in"},
		{Flow, []string{"21 gpm", "21 GPM", "21 gal/min", "21 gallons per minute"}, "21 gpm"},
		{Flow, []string{"1.3 L/s", "1.3 l/s", "1.3l/s", "1.3 litres per second"}, "1.3 L/s"},
		{Flow, []string{"4.7 m3/h", "4.7 m³/h", "4.7 m^3/h", "4.7 m³/hr"}, "4.7 m3/h"},
		{Volume, []string{"1.6 gal", "1.6 gpf", "1.6 gallons"}, "1.6 gal"},
		{Pressure, []string{"1 in w.c.", "1 in wc", `1" w.c.`, "1 inH2O"}, "1 in w.c."},
		{Pressure, []string{"-2 in w.c."}, "-2 in w.c."},
		{Angle, []string{"45°", "45 °", "45 deg", "45 degrees"}, "45°"},
		{Load, []string{"3 dfu", "3 DFU", "3 fu", "3dfu"}, "3 dfu"},
		{LoadPerFlow, []string{"2 dfu/gpm", "2 dfu per gpm", "2 fu/gpm"}, "2 dfu/gpm"},
		{LoadPerFlow, []string{"31.7 dfu/(L/s)", "31.7 dfu per L/s"}, "31.7 dfu/(L/s)"},
		{Factor, []string{"1.25", "1.250"}, "1.25"},
		{Factor, []string{"1-1/4", "5/4"}, "1-1/4"},
		{Density, []string{"62.4 lb/ft3", "62.4 lb/ft³", "62.4 pcf", "62.4 lb per cu ft"}, "62.4 lb/ft3"},
	}
	for _, c := range cases {
		want := mustParse(t, c.kind, c.canon)
		for _, text := range c.texts {
			v := mustParse(t, c.kind, text)
			if !v.Equal(want) || v.String() != c.canon {
				t.Errorf("Parse(%s, %q) = %q, want %q", c.kind, text, v, c.canon)
			}
		}
		if got := want.String(); got != c.canon {
			t.Errorf("canonical %q came back as %q", c.canon, got)
		}
	}
}

// 12 inches to the foot and 1 in = 25.4 mm (NIST SP 811).
func TestEqualAcrossUnits(t *testing.T) {
	pairs := [][2]string{{"18 in", "457.2 mm"}, {"3 ft 6 in", "42 in"}, {"1 ft", "30.48 cm"}, {"5 ft", "1.524 m"}, {"1/3 ft", "4 in"}}
	for _, p := range pairs {
		a, b := mustParse(t, Length, p[0]), mustParse(t, Length, p[1])
		if !a.Equal(b) || !b.Equal(a) || a.Fixed() != b.Fixed() || !cmp.Equal(a, b) {
			t.Errorf("%q and %q differ", p[0], p[1])
		}
	}
	// Same micrometre, not the same length.
	a, b := mustParse(t, Length, "457.2 mm"), mustParse(t, Length, "457.2001 mm")
	if a.Fixed() != b.Fixed() || a.Equal(b) {
		t.Errorf("457.2 mm and 457.2001 mm: fixed %d and %d, equal %v", a.Fixed(), b.Fixed(), a.Equal(b))
	}
	if mustParse(t, Slope, "2 %").Equal(mustParse(t, Ratio, "2 %")) {
		t.Error("a slope equals a ratio")
	}
	var none Value
	if !none.IsZero() || none.String() != "" || none.Fixed() != 0 || none.SI() != 0 || none.Rat().Sign() != 0 ||
		none.Equal(mustParse(t, Length, "0 in")) || !none.Equal(Value{}) || mustParse(t, Length, "0 in").IsZero() {
		t.Error("the zero Value must differ from a written zero")
	}
}

func TestFixedRoundsHalfAway(t *testing.T) {
	cases := []struct {
		kind Kind
		text string
		want int64
	}{
		{Length, "0.0005 mm", 1}, {Length, "-0.0005 mm", -1}, {Length, "0.00049 mm", 0},
		{Length, "18 in", 457200}, {Length, "6 ft", 1828800}, {Length, "1/64 in", 397},
		{Slope, "1/4 in/ft", 20833}, {Slope, "1/8 in/ft", 10417}, {Slope, "1/16 in/ft", 5208},
		{Flow, "21 gpm", 1325}, {Volume, "1.6 gal", 6057}, {Velocity, "2 ft/s", 610},
		{Duration, "6 min", 360000}, {Weight, "38 lb", 17237}, {Pressure, "5 psi", 34474},
		{Angle, "22.5°", 22500}, {Load, "0.5 dfu", 500}, {DischargeUnit, "0.5 L/s", 500},
		{Ratio, "50 %", 500000}, {Factor, "1.25", 1250}, {Number, "0.013", 13000},
		{LoadPerFlow, "2 dfu/gpm", 31700646}, {Density, "62.4 lb/ft3", 999552}, {Area, "1 in2", 645},
		{Length, "0." + strings.Repeat("0", 20) + "1 mm", 0}, {Length, "1." + strings.Repeat("0", 25) + "1 m", 1000000},
	}
	for _, c := range cases {
		if got := mustParse(t, c.kind, c.text).Fixed(); got != c.want {
			t.Errorf("%s %q fixed = %d, want %d", c.kind, c.text, got, c.want)
		}
	}
}

// Sixty-fourths of an inch are 396 875 nm exactly (25.4 mm / 64).
func TestSixtyFourths(t *testing.T) {
	feetIn := func(n int64) string {
		return Value{kind: Length, unit: kinds[Length].lookup["in"], amt: amount{n: n, d: 64, form: feetFrac}}.String()
	}
	for n := int64(-40 * 12 * 64); n <= 40*12*64; n++ {
		text := feetIn(n)
		v := mustParse(t, Length, text)
		if v.Nanometres() != n*396875 || v.String() != text {
			t.Fatalf("%d/64 in as %q: %d nm, back %q", n, text, v.Nanometres(), v)
		}
		if n%4 == 0 {
			back := mustParse(t, Length, Format(Length, v.Fixed(), US))
			if !back.Equal(v) {
				t.Fatalf("Format(%d) = %q, want %q", v.Fixed(), back, v)
			}
		}
	}
}

func TestRoundTripRandom(t *testing.T) {
	rng := rand.New(rand.NewSource(1))
	for range 20000 {
		info := &kindTable[rng.Intn(len(kindTable))]
		if info.kind == Size || info.kind == Count {
			continue
		}
		u := &info.units[rng.Intn(len(info.units))]
		a := amount{n: rng.Int63n(1e8), d: pow10[rng.Intn(9)]}
		if rng.Intn(2) == 0 {
			a.d, a.form = 1+rng.Int63n(999), fraction
		}
		v := Value{kind: info.kind, unit: u, amt: a}
		back := mustParse(t, info.kind, v.String())
		if back.Rat().Cmp(v.Rat()) != 0 || back.String() != v.String() {
			t.Fatalf("%s %v of %q wrote %q, read %q", info.kind, a, u.symbol, v, back)
		}
	}
}

func TestFromFixed(t *testing.T) {
	for _, k := range Kinds() {
		for _, n := range []int64{0, 1, 80, 12345, 1e9 + 7, -3, Unlimited - 1} {
			v := FromFixed(k, n)
			if v.Fixed() != n {
				t.Errorf("FromFixed(%s, %d).Fixed() = %d", k, n, v.Fixed())
			}
			if n < 0 && !kinds[k].signed || k == Size && n != 80 {
				continue
			}
			if back := mustParse(t, k, v.String()); !back.Equal(v) || back.Fixed() != n {
				t.Errorf("FromFixed(%s, %d) = %q, read back as %d", k, n, v, back.Fixed())
			}
		}
	}
	if !FromFixed("colour", 1).IsZero() {
		t.Error("an unknown kind must give the zero Value")
	}
	if got := FromFixed(Length, math.MaxInt64).Nanometres(); got != math.MaxInt64 {
		t.Errorf("nanometres of the largest length = %d", got)
	}
}

func TestUnits(t *testing.T) {
	units := Units()
	if len(units) != len(Kinds()) {
		t.Fatalf("%d units for %d kinds", len(units), len(Kinds()))
	}
	for _, k := range Kinds() {
		if units[k] == "" || len(displays[k][US]) == 0 && k != Size {
			t.Errorf("%s lacks a fixed unit or a display", k)
		}
		if kinds[k].plain.fden != 1 {
			t.Errorf("%s: a fixed unit is no whole part of %q", k, kinds[k].plain.symbol)
		}
	}
}

func TestParseOneOf(t *testing.T) {
	for text, want := range map[string]Kind{"3 dfu": Load, "0.5 L/s": DischargeUnit} {
		v, err := ParseOneOf(text, Load, DischargeUnit)
		if err != nil || v.Kind() != want {
			t.Errorf("%q is %q, %v", text, v.Kind(), err)
		}
	}
	_, err := ParseOneOf("3", Load, DischargeUnit)
	var pe *ParseError
	if !errors.As(err, &pe) || pe.Kind != Load || !strings.Contains(pe.Hint, "3 dfu") || !strings.Contains(pe.Hint, "3 L/s") {
		t.Errorf("error %#v", err)
	}
	if _, err := ParseOneOf("3"); err == nil {
		t.Error("no kinds: want an error")
	}
}
