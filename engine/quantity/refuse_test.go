package quantity

import (
	"errors"
	"strings"
	"testing"
)

func TestParseRefuses(t *testing.T) {
	cases := []struct {
		kind   Kind
		text   string
		reason string // part of
		hint   string // part of
	}{
		{Length, "3", "no unit", `"3 in", "3 ft" or "3 mm"`},
		{Length, "1.5", "no unit", `"1.5 in"`},
		{Length, "1-1/2", "no unit", `"1-1/2 in"`},
		{Slope, "2", "no unit", `"2 in/ft", "2 %" or "1:48"`},
		{Size, "3", "no unit", `write "3 in"`},
		{Size, "80", "no unit", `write "DN 80"`},
		{Size, "7", "no unit", `write "3 in" or "DN 80"`},
		{Flow, "21", "no unit", `"21 gpm" or "21 L/s"`},
		{Angle, "45", "no unit", `"45°" or "45 deg"`},
		{Load, "3", "no unit", `"3 dfu"`},
		{Flow, "1,3 L/s", "decimal comma", `"1.3 L/s"`},
		{Flow, "1,300 L/min", "thousands separator", `"1300 L/min", or "1.300 L/min"`},
		{Length, "1,200.5 mm", "thousands separator", `write "1200.5 mm"`},
		{Length, "1.200,5 mm", "decimal comma", `write "1200.5 mm"`},
		{Length, "1 200 mm", "thousands separator", `"1200 mm"`},
		{Length, "1_200 mm", "thousands separator", `"1200 mm"`},
		{Length, "1'200 mm", "inches", "3 ft 6 in"},
		{Length, "1e3 mm", "exponent", "in full"},
		{Length, "1.5E+3 mm", "exponent", "in full"},
		{Length, "1/0 in", "divides by zero", "1/2"},
		{Length, "1-1/0 in", "divides by zero", "1/2"},
		{Slope, "1:0", "divides by zero", "1:48"},
		{Slope, "1:48 ft", "follows the ratio", "1:48"},
		{Length, "21 gpm", "unit for a flow", "in, ft"},
		{Flow, "3 in", "unit for a length", "gpm"},
		{Length, "3 ft2", "unit for an area", "mm"},
		{Length, "3 furlong", `"furlong" is not a unit`, "mm, cm, m, in, ft"},
		{Volume, "3 imp gal", "not a unit", "gal"},
		{Load, "0.5 L/s", "unit for a flow", "dfu"},
		{Factor, "2 in", "unit for a length", "without a unit"},
		{Ratio, "0.5", "no unit", `"0.5 %"`},
		{Size, "4.5 in", "not a listed", `"4 in" and "5 in"`},
		{Size, "DN 110", "not a listed", `"DN 100" and "DN 125"`},
		{Size, "NPS 7", "not a listed", `"NPS 6" and "NPS 8"`},
		{Size, "40 in", "not a listed", `largest listed size is "15 in"`},
		{Size, "1/8 in", "not a listed", `smallest listed size is "3/8 in"`},
		{Size, "50 mm", "nominal", "DN 50"},
		{Size, "DN", "no number", "DN 80"},
		{Size, "DN 50 mm", "follows the size", "DN 50"},
		{Size, "about 3", "no number", "DN 80"},
		{Length, "", "empty", "3 in"},
		{Length, " \t", "empty", "3 in"},
		{Length, "in", "no number", "3 in"},
		{Length, "1-2 in", "range", "one number"},
		{Length, "1 2 in", "side by side", "1-1/2"},
		{Length, "1.2.3 in", "more than one decimal point", "3 in"},
		{Length, "3. in", "digits after", "3 in"},
		{Length, "1.5/2 in", "whole numbers", "1-1/2"},
		{Length, "1-5/4 in", "less than one", "1-1/2"},
		{Length, "3.5 ft 6 in", "whole number", "3 ft 6 in"},
		{Length, "3 ft 18 in", "less than 12", "4 ft 6 in"},
		{Length, "3 ft 6", "inches have no unit", `"3 ft 6 in"`},
		{Length, "3 ft 6 mm", "must be inches", "3 ft 6 in"},
		{Length, "3 ft -6 ft", "must be inches", "3 ft 6 in"},
		{Length, "½2 in", "cannot be read", "3 in"},
		{Length, "1² in", "cannot be read", "3 in"},
		{Length, "٣ in", "cannot be read", "3 in"},
		{Length, "3 in \xff", "cannot be read", "3 in"},
		{Flow, "-3 gpm", "never negative", "minus"},
		{Count, "2.5", "whole number", `"2"`},
		{Count, "-2", "never negative", "minus"},
		{Length, strings.Repeat("9", 33) + " in", "more than 32 digits", "round"},
		{Length, "1/" + strings.Repeat("9", 33) + " in", "more than 32 digits", "round"},
		{Length, strings.Repeat("9", 32) + " in", "too large", "check"},
		{Length, "9007199255 m", "too large", "check"},
		{Length, strings.Repeat("1", 1<<20), "longer than 160", "3 in"},
		{"colour", "3 in", "no such kind", "Units"},
	}
	for _, c := range cases {
		v, err := Parse(c.kind, c.text)
		var pe *ParseError
		if !errors.As(err, &pe) {
			t.Errorf("Parse(%s, %.40q) = %q, %v; want a *ParseError", c.kind, c.text, v, err)
			continue
		}
		if !strings.Contains(pe.Reason, c.reason) || !strings.Contains(pe.Hint, c.hint) {
			t.Errorf("Parse(%s, %.40q)\n reason %s\n hint   %s\n want   %s / %s", c.kind, c.text, pe.Reason, pe.Hint, c.reason, c.hint)
		}
		if pe.Kind != c.kind || pe.Text != c.text || !v.IsZero() {
			t.Errorf("Parse(%s, %.40q) lost its kind or text", c.kind, c.text)
		}
		if s := err.Error(); len(s) > 400 || strings.HasSuffix(s, ".") {
			t.Errorf("error voice: %s", s)
		}
	}
}

func TestErrorText(t *testing.T) {
	_, err := Parse(LoadPerFlow, "2 gpm")
	if want := `"2 gpm" is not a load per flow: "gpm" is a unit for a flow`; err == nil || err.Error() != want {
		t.Errorf("got  %v\nwant %s", err, want)
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{`3'-6"`, "1-1/2 in", "1½ in", "1 in 48", "1:57.5", "-4 ft 2-1/2 in", "DN 50", "NPS 1-1/2",
		"21 gpm", "31.7 dfu/(L/s)", "45°", "1 in w.c.", "1,3 L/s", "62.4 lb/ft³", "0.00000000000000000000001 m", "1/3 ft 1/7 in"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, k := range Kinds() {
			v, err := Parse(k, text)
			if err != nil {
				var pe *ParseError
				if !errors.As(err, &pe) || pe.Reason == "" || pe.Hint == "" {
					t.Fatalf("Parse(%s, %q): %#v", k, text, err)
				}
				continue
			}
			canon := v.String()
			back, err := Parse(k, canon)
			if err != nil || !back.Equal(v) || back.Fixed() != v.Fixed() {
				t.Fatalf("Parse(%s, %q) = %q, read back %q, %v", k, text, canon, back, err)
			}
			if again := back.String(); again != canon {
				t.Fatalf("%s %q is written %q, then %q", k, text, canon, again)
			}
			for _, s := range []System{US, SI} {
				shown := Format(k, v.Fixed(), s)
				if _, err := Parse(k, shown); err != nil {
					t.Fatalf("Format(%s, %d) = %q: %v", k, v.Fixed(), shown, err)
				}
			}
		}
	})
}

var sink Value

func BenchmarkParse(b *testing.B) {
	cases := []struct {
		name string
		kind Kind
		text string
	}{
		{"inches", Length, "18 in"}, {"feet", Length, "3 ft 6-1/2 in"}, {"primes", Length, `3'-6"`}, {"slope", Slope, "1/4 in/ft"},
		{"ratio", Slope, "1:48"}, {"size", Size, "1-1/2 in"}, {"vulgar", Size, "1½ in"}, {"flow", Flow, "1.3 L/s"},
	}
	for _, c := range cases {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				v, err := Parse(c.kind, c.text)
				if err != nil {
					b.Fatal(err)
				}
				sink = v
			}
		})
	}
}
