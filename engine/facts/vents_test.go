package facts

import "testing"

// Two sinks, vents up to a joint 5 ft over the drains, along 8 ft at 1/8 in/ft
// and through the roof; the basin's vent joins where it turns up.
const vented = `"fixtures": [{"id": "f", "kind": "sink", "flood_rim": "36 in"}, {"id": "g", "kind": "sink", "flood_rim": "40 in"}],
	"junctions": [{"id": "j", "invert": "18 in"}, {"id": "k", "invert": "20 in"}, {"id": "x"}, {"id": "y"}], "basins": [{"id": "s"}],
	"terminals": [{"id": "t", "kind": "roof_vent"}],
	"pipes": [
		{"id": "a", "service": "drain", "from": "f", "to": "j", "size": "2 in"}, {"id": "b", "service": "drain", "from": "g", "to": "k", "size": "1-1/2 in"},
		{"id": "d", "service": "drain", "from": "j", "to": "s", "lie": "vertical"}, {"id": "e", "service": "drain", "from": "k", "to": "s", "lie": "vertical"},
		{"id": "v1", "service": "vent", "from": "j", "to": "x", "size": "1-1/2 in", "length": "5 ft", "lie": "vertical"},
		{"id": "v2", "service": "vent", "from": "k", "to": "x", "size": "1-1/2 in", "length": "3 ft", "lie": "vertical", "invert_from": "42 in"},
		{"id": "v3", "service": "vent", "from": "x", "to": "y", "size": "1-1/2 in", "length": "8 ft", "slope": "1/8 in/ft"},
		{"id": "v4", "service": "vent", "from": "y", "to": "t", "size": "2 in", "length": "20 ft", "lie": "vertical"},
		{"id": "vs", "service": "vent", "from": "s", "to": "y", "size": "1-1/4 in", "length": "7 ft"}]`

func TestVents(t *testing.T) {
	f := derive(t, vented)
	// v1 starts at 18 in and rises 60 in to 78 in; the higher rim is at 40 in.
	v1, v2, v3, v4 := at(t, f.Vents, "v1"), at(t, f.Vents, "v2"), at(t, f.Vents, "v3"), at(t, f.Vents, "v4")
	want(t, "v1 above its rim", v1.HeightAtTop, (78-36)*in)
	want(t, "v2 above its rim", v2.HeightAtTop, (78-40)*in)
	want(t, "v3 above both rims", v3.HeightAtTop, (78-40)*in)
	want(t, "v3 at its lowest", v3.LowPoint, (78-40)*in)
	want(t, "v4 above both rims", v4.HeightAtTop, (79-40)*in)
	absent(t, "lowest of a vertical vent", v4.LowPoint)
	want(t, "slope of v3", v3.Slope, 10_417)
	// From the farther connection: 5 + 8 + 20 ft for v1 and all below it.
	want(t, "length of v1", v1.Length, 33*12*in)
	want(t, "length of v2", v2.Length, 31*12*in)
	want(t, "length of v3", v3.Length, 33*12*in)
	want(t, "length of v4", v4.Length, 33*12*in)
	want(t, "load of v1", v1.Load, 2000)
	want(t, "load of v3", v3.Load, 4000)
	want(t, "largest drain of v3", v3.DrainDN, 50)
	if !v4.ServesBasin || !v4.ServesDrains || v3.ServesBasin || v4.FromDrain || !v1.FromDrain {
		t.Errorf("v3 = %+v\nv4 = %+v", v3, v4)
	}
	b := at(t, f.Basins, "s")
	want(t, "vent of the basin", b.VentLength, 27*12*in)
	want(t, "its smallest size", b.VentDN, 32)
	if !b.VentJoined || b.VentID != "vs" {
		t.Errorf("basin = %+v", b)
	}
	if f.Building.OpenAirVents != 1 {
		t.Errorf("open air vents = %d", f.Building.OpenAirVents)
	}
}

func TestVentLevelsFromTheTerminal(t *testing.T) {
	f := derive(t, `"fixtures": [{"id": "f", "kind": "sink", "flood_rim": "36 in"}], "junctions": [{"id": "j"}, {"id": "x"}], "terminals": [{"id": "t", "kind": "air_admittance_valve", "elevation": "60 in"}],
		"connections": [{"id": "c", "kind": "branch"}],
		"pipes": [{"id": "a", "service": "drain", "from": "f", "to": "j"}, {"id": "d", "service": "drain", "from": "j", "to": "c"},
			{"id": "v1", "service": "vent", "from": "j", "to": "x", "length": "20 in", "lie": "vertical"}, {"id": "v2", "service": "vent", "from": "x", "to": "t", "length": "10 in", "lie": "vertical"}]`)
	want(t, "v1 at its top", at(t, f.Vents, "v1").HeightAtTop, 14*in)
	want(t, "valve above the rim", at(t, f.AirValves, "t").AboveRim, 24*in)
	want(t, "its vent", at(t, f.AirValves, "t").Length, 30*in)
}

// Vents that part and meet again carry what they serve once.
func TestVentsThatPartAndMeet(t *testing.T) {
	f := derive(t, `"fixtures": [{"id": "f", "kind": "sink"}], "junctions": [{"id": "j"}, {"id": "x"}], "terminals": [{"id": "t", "kind": "roof_vent"}], "connections": [{"id": "c", "kind": "branch"}],
		"pipes": [{"id": "a", "service": "drain", "from": "f", "to": "j"}, {"id": "d", "service": "drain", "from": "j", "to": "c"},
			{"id": "v1", "service": "vent", "from": "j", "to": "x", "length": "1 ft"}, {"id": "v2", "service": "vent", "from": "j", "to": "x", "length": "9 ft"}, {"id": "v3", "service": "vent", "from": "x", "to": "t", "length": "2 ft"}]`)
	for _, id := range []string{"v1", "v2", "v3"} {
		want(t, id, at(t, f.Vents, id).Load, 2000)
	}
	want(t, "farthest way", at(t, f.Vents, "v3").Length, 11*12*in)
}

func TestVentThatEndsNowhere(t *testing.T) {
	f := derive(t, `"fixtures": [{"id": "f", "kind": "sink"}], "junctions": [{"id": "j"}, {"id": "x"}], "connections": [{"id": "c", "kind": "branch"}],
		"pipes": [{"id": "a", "service": "drain", "from": "f", "to": "j"}, {"id": "d", "service": "drain", "from": "j", "to": "c"}, {"id": "v", "service": "vent", "from": "j", "to": "x"}]`)
	x := at(t, f.Fixtures, "f")
	if x.VentEndsAt != "nothing" || at(t, f.Vents, "v").EndsAt != "nothing" {
		t.Errorf("fixture = %+v", x)
	}
}

// Two vents join into one that is smaller than one of them, then widens.
func TestVentBelow(t *testing.T) {
	body := func(second string) string {
		return `"fixtures": [{"id": "f", "kind": "sink"}, {"id": "g", "kind": "sink"}], "junctions": [{"id": "j"}, {"id": "k"}, {"id": "u"}, {"id": "w"}], "terminals": [{"id": "t", "kind": "roof_vent"}, {"id": "x", "kind": "roof_vent"}],
		"connections": [{"id": "c", "kind": "branch"}],
		"pipes": [{"id": "a", "service": "drain", "from": "f", "to": "j"}, {"id": "b", "service": "drain", "from": "g", "to": "k"}, {"id": "d", "service": "drain", "from": "j", "to": "c"}, {"id": "e", "service": "drain", "from": "k", "to": "c"},
			{"id": "v1", "service": "vent", "from": "j", "to": "u", "size": "1-1/2 in"}, {"id": "v2", "service": "vent", "from": "k", "to": "u"` + second + `},
			{"id": "v3", "service": "vent", "from": "u", "to": "w", "size": "2 in"}, {"id": "v4", "service": "vent", "from": "w", "to": "t", "size": "3 in"}, {"id": "v5", "service": "vent", "from": "w", "to": "x", "size": "1-1/2 in"}]`
	}
	f := derive(t, body(`, "size": "3 in"`))
	v3, v4 := at(t, f.Vents, "v3"), at(t, f.Vents, "v4")
	want(t, "into v3", v3.LargestBelow, 80)
	want(t, "into v4", v4.LargestBelow, 50)
	if v3.LargestFrom != "v2" || !v3.HasBelow || !v4.HasBelow {
		t.Errorf("v3 = %+v, v4 = %+v", v3, v4)
	}
	for _, id := range []string{"v1", "v2", "v5"} {
		if v := at(t, f.Vents, id); v.HasBelow || v.LargestBelow != nil {
			t.Errorf("%s starts at a drain, or beside a larger vent: %+v", id, v)
		}
	}
	v3 = at(t, derive(t, body("")).Vents, "v3")
	absent(t, "into v3, one size not stated", v3.LargestBelow)
	if !v3.HasBelow {
		t.Error("a vent leads into v3")
	}
}
