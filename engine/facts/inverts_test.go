package facts

import (
	"strings"
	"testing"
)

// Falls and slopes of published worked problems
// (https://licensereadylearning.com/learn/plumbing_contractor/trade_knowledge/dwv_systems).
func TestPublishedSlopes(t *testing.T) {
	t.Run("40 ft at 1/8 in/ft fall 5 in", func(t *testing.T) {
		f := derive(t, `"fixtures": [{"id": "f", "kind": "sink"}], "connections": [{"id": "c", "kind": "building_drain", "invert": "0 ft"}],
			"pipes": [{"id": "b", "service": "drain", "from": "f", "to": "c", "length": "40 ft", "slope": "1/8 in/ft"}]`)
		b := at(t, f.Drains, "b")
		want(t, "fall", b.Fall, 5*in)
		want(t, "invert_from", b.InvertFrom, 5*in)
		want(t, "invert_to", b.InvertTo, 0)
	})
	t.Run("8 in over 32 ft are 1/4 in/ft", func(t *testing.T) {
		f := derive(t, `"fixtures": [{"id": "f", "kind": "sink"}], "connections": [{"id": "c", "kind": "building_drain"}],
			"pipes": [{"id": "b", "service": "drain", "from": "f", "to": "c", "length": "32 ft", "invert_from": "8 in", "invert_to": "0 in"}]`)
		b := at(t, f.Drains, "b")
		want(t, "slope", b.Slope, 20_833) // 1/48
		if b.Lie != "horizontal" {
			t.Errorf("lie = %q", b.Lie)
		}
	})
}

// A line of three pipes with the invert stated once, at each place in turn:
// 12 ft at 1/4 in/ft (3 in), 1 ft 8 in vertical (20 in), 24 ft at 1/8 in/ft (3 in).
func TestInvertsSpreadBothWays(t *testing.T) {
	ends := map[string][2]int64{"b1": {26 * in, 23 * in}, "b2": {23 * in, 3 * in}, "b3": {3 * in, 0}}
	places := map[string][4]string{ // b1 from, junction j1, b3 to, connection
		"upper end":  {`, "invert_from": "26 in"`},
		"junction":   {"", `, "invert": "23 in"`},
		"lower end":  {"", "", `, "invert_to": "0 in"`},
		"connection": {"", "", "", `, "invert": "0 in"`},
	}
	for name, p := range places {
		t.Run(name, func(t *testing.T) {
			f := derive(t, `"fixtures": [{"id": "f", "kind": "sink"}],
				"junctions": [{"id": "j1"`+p[1]+`}, {"id": "j2"}], "connections": [{"id": "c", "kind": "branch"`+p[3]+`}],
				"pipes": [
					{"id": "b1", "service": "drain", "from": "f", "to": "j1", "length": "12 ft", "slope": "1/4 in/ft"`+p[0]+`},
					{"id": "b2", "service": "drain", "from": "j1", "to": "j2", "length": "1 ft 8 in", "lie": "vertical"},
					{"id": "b3", "service": "drain", "from": "j2", "to": "c", "length": "24 ft", "slope": "1/8 in/ft"`+p[2]+`}]`)
			for id, end := range ends {
				b := at(t, f.Drains, id)
				want(t, id+" from", b.InvertFrom, end[0])
				want(t, id+" to", b.InvertTo, end[1])
			}
			absent(t, "slope of a vertical pipe", at(t, f.Drains, "b2").Slope)
		})
	}
}

func TestTrapWeirIsNoInvert(t *testing.T) {
	f := derive(t, `"fixtures": [{"id": "f", "kind": "sink", "trap": {"type": "p_trap", "size": "2 in", "weir": "10 in"}}],
		"connections": [{"id": "c", "kind": "branch"}],
		"pipes": [{"id": "b", "service": "drain", "from": "f", "to": "c", "length": "4 ft", "slope": "2 %"}]`)
	absent(t, "invert", at(t, f.Drains, "b").InvertFrom)
}

// At a junction the lower of two drains sets the invert, the higher drops in.
func TestDropAtJunction(t *testing.T) {
	f := derive(t, `"fixtures": [{"id": "f", "kind": "sink"}, {"id": "g", "kind": "sink"}], "junctions": [{"id": "j"}],
		"connections": [{"id": "c", "kind": "branch", "invert": "-2 in"}],
		"pipes": [
			{"id": "a", "service": "drain", "from": "f", "to": "j", "length": "8 ft", "slope": "1/4 in/ft", "invert_from": "20 in"},
			{"id": "b", "service": "drain", "from": "g", "to": "j", "length": "8 ft", "slope": "1/4 in/ft", "invert_from": "4 in"},
			{"id": "d", "service": "drain", "from": "j", "to": "c", "length": "8 ft", "slope": "1/4 in/ft"}]`)
	want(t, "a to", at(t, f.Drains, "a").InvertTo, 18*in)
	want(t, "d from", at(t, f.Drains, "d").InvertFrom, 2*in)
	want(t, "height over the connection", at(t, f.Connections, "c").DrainHeight, 2*in)
}

func TestContradictions(t *testing.T) {
	line := func(a, j, b string) string {
		return `"fixtures": [{"id": "f", "kind": "sink"}], "junctions": [{"id": "j"` + j + `}], "connections": [{"id": "c", "kind": "branch"}],
			"pipes": [{"id": "a", "service": "drain", "from": "f", "to": "j", "length": "10 ft"` + a + `},
			{"id": "b", "service": "drain", "from": "j", "to": "c", "length": "10 ft"` + b + `}]`
	}
	tests := []struct{ name, body, want string }{
		{"agree within 1/8 in", line(`, "slope": "1/4 in/ft", "invert_from": "10 in", "invert_to": "7.62 in"`, "", ""), ""},
		{"slope and inverts", line(`, "slope": "1/4 in/ft", "invert_from": "10 in", "invert_to": "7 in"`, "", ""),
			`pipe "a" falls 3 in by its inverts, and 2-1/2 in by its length and slope`},
		{"more fall than length", line(`, "invert_from": "11 ft", "invert_to": "0 ft"`, "", ""),
			`pipe "a" falls 11 ft by its inverts, more than its length of 10 ft`},
		{"leaves at another level", line("", `, "invert": "5 in"`, `, "invert_from": "4 in"`),
			`pipe "b" leaves junction "j" at 4 in, and the junction's invert is 5 in`},
		{"arrives too low", line(`, "invert_to": "4 in"`, "", `, "invert_from": "5 in"`),
			`pipe "a" arrives at junction "j" 1 in below the invert at which waste leaves it`},
		{"a drop is no contradiction", line(`, "invert_to": "9 in"`, "", `, "invert_from": "5 in"`), ""},
		{"back pitch is no contradiction", line(`, "slope": "-1/4 in/ft", "invert_from": "5 in"`, "", ""), ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, problems := deriveWith(t, read(t, tt.body), tables{})
			var got []string
			for _, p := range problems {
				got = append(got, p.Message)
				if p.Code != "inverts_disagree" || p.Place.Line == 0 || p.Hint == "" {
					t.Errorf("problem %+v", p)
				}
			}
			if s := strings.Join(got, "; "); s != tt.want {
				t.Errorf("problems = %q, want %q", s, tt.want)
			}
		})
	}
}

// A pipe stands at 45 degrees or more: it falls its length over the root of 2.
func TestLie(t *testing.T) {
	tests := []struct{ name, pipe, want string }{
		{"stated", `"lie": "sloped_45", "length": "1 ft"`, "sloped_45"},
		{"slope of 1 in 1", `"slope": "1:1"`, "vertical"},
		{"slope under 1 in 1", `"slope": "99 %"`, "horizontal"},
		{"falls 708 of 1000 mm", `"length": "1000 mm", "invert_from": "708 mm", "invert_to": "0 mm"`, "vertical"},
		{"falls 707 of 1000 mm", `"length": "1000 mm", "invert_from": "707 mm", "invert_to": "0 mm"`, "horizontal"},
		{"falls the wrong way", `"length": "1000 mm", "invert_from": "0 mm", "invert_to": "900 mm"`, "horizontal"},
		{"a stack", `"role": "stack"`, "vertical"},
		{"not known", `"length": "1 ft"`, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := derive(t, `"fixtures": [{"id": "f", "kind": "sink"}], "connections": [{"id": "c", "kind": "branch"}],
				"pipes": [{"id": "b", "service": "drain", "from": "f", "to": "c", `+tt.pipe+`}]`)
			if got := at(t, f.Drains, "b").Lie; got != tt.want {
				t.Errorf("lie = %q, want %q", got, tt.want)
			}
		})
	}
}

// Indirect waste falls through air from over the rim of the fixture that takes
// it: neither drain has its level from the other.
func TestIndirectWasteHandsOnNoInvert(t *testing.T) {
	f := derive(t, `"fixtures": [{"id": "dw", "kind": "dishwasher", "indirect_waste": true}, {"id": "fd", "kind": "floor_drain"},
			{"id": "ice", "kind": "sink", "indirect_waste": true}],
		"junctions": [{"id": "j"}], "connections": [{"id": "c", "kind": "branch", "invert": "0 in"}],
		"pipes": [{"id": "over", "service": "drain", "from": "dw", "to": "fd", "length": "4 ft", "slope": "1/4 in/ft", "invert_to": "20 in"},
			{"id": "also", "service": "drain", "from": "ice", "to": "fd", "length": "4 ft"},
			{"id": "arm", "service": "drain", "from": "fd", "to": "j", "length": "2 ft"},
			{"id": "d", "service": "drain", "from": "j", "to": "c", "length": "4 ft", "slope": "1/4 in/ft"}]`)
	want(t, "over from", at(t, f.Drains, "over").InvertFrom, 21*in)
	want(t, "arm to", at(t, f.Drains, "arm").InvertTo, in)
	absent(t, "arm from, 20 in if it stood at the rim", at(t, f.Drains, "arm").InvertFrom)
	absent(t, "also to", at(t, f.Drains, "also").InvertTo)
}
