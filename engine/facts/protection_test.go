package facts

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

// methods derives a design and lists how its fixtures are protected.
func methods(t *testing.T, body string) (map[string]string, *Facts) {
	t.Helper()
	f := derive(t, body)
	got := map[string]string{}
	for _, x := range f.Fixtures {
		got[x.ID] = x.VentMethod
	}
	return got, f
}

func expect(t *testing.T, got, want map[string]string) {
	t.Helper()
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("methods (-want +got):\n%s", diff)
	}
}

func TestIndividualVentAndItsArm(t *testing.T) {
	got, f := methods(t, `"fixtures": [{"id": "f", "kind": "sink", "trap": {"type": "p_trap", "size": "1-1/2 in"}}], "junctions": [{"id": "k"}, {"id": "j"}], "terminals": [{"id": "t", "kind": "roof_vent"}],
		"connections": [{"id": "c", "kind": "branch"}],
		"pipes": [
			{"id": "a", "service": "drain", "from": "f", "to": "k", "size": "2 in", "length": "2 ft", "slope": "1/4 in/ft", "bends": [{"kind": "eighth_bend"}]},
			{"id": "b", "service": "drain", "from": "k", "to": "j", "size": "1-1/2 in", "length": "1 ft 6 in", "slope": "1/8 in/ft", "bends": [{"kind": "quarter_bend"}],
				"devices": [{"id": "u", "kind": "trap"}]},
			{"id": "d", "service": "drain", "from": "j", "to": "c", "size": "2 in", "length": "4 ft", "lie": "vertical"},
			{"id": "v", "service": "vent", "from": "j", "to": "t", "length": "9 ft"}]`)
	expect(t, got, map[string]string{"f": "individual"})
	arm := at(t, f.TrapArms, "f")
	want(t, "length", arm.Length, 42*in)
	want(t, "fall", arm.Fall, in/2+3*in/16+1) // 1/2 in and 3/16 in: 17462.5 um, rounded away from zero
	want(t, "least slope", arm.Slope, 10_417)
	want(t, "turns", arm.Turns, 135_000)
	want(t, "smallest size", arm.DN, 40)
	want(t, "its diameter", arm.Diameter, 38_100)
	if arm.VerticalDrop || arm.HasCleanout || arm.Method != "individual" {
		t.Errorf("arm = %+v", arm)
	}
	x := at(t, f.Fixtures, "f")
	if x.VentID != "v" || x.VentEndsAt != "open_air" || x.TrapsInSeries != 2 || x.DrainID != "a" {
		t.Errorf("fixture = %+v", x)
	}
	if a, d := at(t, f.Drains, "b"), at(t, f.Drains, "d"); a.TrapArmOf != "f" || d.TrapArmOf != "" {
		t.Errorf("trap arm of b %q, of d %q", a.TrapArmOf, d.TrapArmOf)
	}
}

func TestCommonAndAirAdmittance(t *testing.T) {
	body := func(kind string) string {
		return `"fixtures": [{"id": "f", "kind": "sink"}, {"id": "g", "kind": "sink"}], "junctions": [{"id": "j"}],
		"terminals": [{"id": "t", "kind": "` + kind + `"}], "connections": [{"id": "c", "kind": "branch"}],
		"pipes": [{"id": "a", "service": "drain", "from": "f", "to": "j"}, {"id": "b", "service": "drain", "from": "g", "to": "j"},
			{"id": "d", "service": "drain", "from": "j", "to": "c", "lie": "vertical"}, {"id": "v", "service": "vent", "from": "j", "to": "t"}]`
	}
	got, f := methods(t, body("roof_vent"))
	expect(t, got, map[string]string{"f": "common", "g": "common"})
	want(t, "shared by", at(t, f.Fixtures, "f").VentSharedBy, 2)
	got, f = methods(t, body("air_admittance_valve"))
	expect(t, got, map[string]string{"f": "air_admittance", "g": "air_admittance"})
	valve := at(t, f.AirValves, "t")
	want(t, "load", valve.Load, 4000)
	if valve.Fixtures != 2 || len(f.Terminals) != 0 || f.Building.OpenAirVents != 0 {
		t.Errorf("valve = %+v", valve)
	}
}

// A lavatory with a dry vent; shower and closet join its drain further down.
const bathroom = `"fixtures": [{"id": "lav", "kind": "lavatory", "flood_rim": "31 in"}, {"id": "sh", "kind": "shower", "flood_rim": "2 in"}, {"id": "wc", "kind": "water_closet", "flood_rim": "15 in"}],
	"junctions": [{"id": "j0"}, {"id": "j1"}, {"id": "j2"}, {"id": "j3"}], "terminals": [{"id": "t", "kind": "roof_vent"}], "connections": [{"id": "c", "kind": "building_drain"}],
	"pipes": [
		{"id": "a", "service": "drain", "from": "lav", "to": "j0", "size": "1-1/2 in", "lie": "horizontal"},
		{"id": "w0", "service": "drain", "from": "j0", "to": "j1", "size": "2 in", "lie": "vertical"},
		{"id": "w1", "service": "drain", "from": "j1", "to": "j2", "size": "2 in", "lie": "horizontal"},
		{"id": "s", "service": "drain", "from": "sh", "to": "j2", "size": "2 in", "lie": "horizontal"},
		{"id": "w2", "service": "drain", "from": "j2", "to": "j3", "size": "2 in", "lie": "horizontal"},
		{"id": "k", "service": "drain", "from": "wc", "to": "j3", "size": "3 in", "lie": "horizontal"},
		{"id": "out", "service": "drain", "from": "j3", "to": "c", "size": "3 in", "lie": "horizontal"},
		{"id": "v", "service": "vent", "from": "j0", "to": "t", "size": "1-1/2 in", "lie": "vertical"}]`

func TestWetVent(t *testing.T) {
	got, f := methods(t, bathroom)
	expect(t, got, map[string]string{"lav": "individual", "sh": "wet", "wc": "wet"})
	var ids []string
	vents := map[string][]string{}
	for _, w := range f.WetVents {
		ids = append(ids, w.ID)
		vents[w.ID] = w.VentedFixture
		if w.Kind != "wet" || w.FirstVented != "lavatory" {
			t.Errorf("%s = %+v", w.ID, w)
		}
	}
	if diff := cmp.Diff([]string{"w0", "w1", "w2"}, ids); diff != "" {
		t.Errorf("wet vents (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(map[string][]string{"w0": {"sh"}, "w1": {"sh"}, "w2": {"wc"}}, vents); diff != "" {
		t.Errorf("vented (-want +got):\n%s", diff)
	}
	want(t, "load of w2", at(t, f.WetVents, "w2").Load, 4000)
	// The dry vent serves all three: 2 + 2 + 4 units, the largest drain 3 in.
	v := at(t, f.Vents, "v")
	want(t, "load", v.Load, 8000)
	want(t, "drain", v.DrainDN, 80)
	if !v.WaterCloset || !v.FromDrain || !v.ServesDrains || v.ServesBasin {
		t.Errorf("vent = %+v", v)
	}
	if a := at(t, f.TrapArms, "wc"); !a.SelfSiphonic || a.Method != "wet" {
		t.Errorf("arm = %+v", a)
	}
}

func TestIndirectWaste(t *testing.T) {
	got, f := methods(t, `"fixtures": [{"id": "dw", "kind": "dishwasher", "indirect_waste": true}, {"id": "fd", "kind": "floor_drain"}], "junctions": [{"id": "j"}],
		"terminals": [{"id": "t", "kind": "roof_vent"}], "connections": [{"id": "c", "kind": "branch"}],
		"pipes": [{"id": "a", "service": "drain", "from": "dw", "to": "fd"}, {"id": "b", "service": "drain", "from": "fd", "to": "j"},
			{"id": "d", "service": "drain", "from": "j", "to": "c"}, {"id": "v", "service": "vent", "from": "j", "to": "t"}]`)
	expect(t, got, map[string]string{"dw": "none", "fd": "individual"})
	want(t, "both loads", at(t, f.Drains, "b").Load, 4000)
	if x := at(t, f.Fixtures, "dw"); !x.Indirect || x.DrainsTo != "connection" || x.JoinedUnvented {
		t.Errorf("dw = %+v", x)
	}
}

func TestUnventedDrainsThatJoin(t *testing.T) {
	got, f := methods(t, `"fixtures": [{"id": "f", "kind": "sink"}, {"id": "g", "kind": "sink"}, {"id": "h", "kind": "sink"}], "junctions": [{"id": "k"}, {"id": "j"}],
		"terminals": [{"id": "t", "kind": "roof_vent"}], "connections": [{"id": "c", "kind": "branch"}],
		"pipes": [{"id": "a", "service": "drain", "from": "f", "to": "k"}, {"id": "b", "service": "drain", "from": "g", "to": "k"}, {"id": "e", "service": "drain", "from": "k", "to": "j"},
			{"id": "d", "service": "drain", "from": "j", "to": "c"}, {"id": "v", "service": "vent", "from": "j", "to": "t"}, {"id": "x", "service": "drain", "from": "h", "to": "c"}]`)
	expect(t, got, map[string]string{"f": "none", "g": "none", "h": "none"})
	if !at(t, f.Fixtures, "f").JoinedUnvented || at(t, f.Fixtures, "h").JoinedUnvented {
		t.Error("f joins g before the vent, h joins nothing")
	}
	if len(f.TrapArms) != 0 {
		t.Errorf("trap arms = %v", f.TrapArms)
	}
}

func TestStackVented(t *testing.T) {
	got, f := methods(t, `"fixtures": [{"id": "up1", "kind": "sink"}, {"id": "up2", "kind": "sink"}, {"id": "low", "kind": "sink"}, {"id": "foot", "kind": "sink"}],
		"junctions": [{"id": "top"}, {"id": "mid"}, {"id": "base"}, {"id": "end"}], "terminals": [{"id": "t", "kind": "roof_vent"}], "connections": [{"id": "c", "kind": "building_sewer"}],
		"pipes": [
			{"id": "a", "service": "drain", "from": "up1", "to": "top", "lie": "horizontal"}, {"id": "b", "service": "drain", "from": "up2", "to": "top", "lie": "horizontal"},
			{"id": "s1", "service": "drain", "from": "top", "to": "mid", "lie": "vertical", "size": "3 in"}, {"id": "d", "service": "drain", "from": "low", "to": "mid", "lie": "horizontal"},
			{"id": "s2", "service": "drain", "from": "mid", "to": "base", "lie": "vertical", "size": "4 in"},
			{"id": "h", "service": "drain", "from": "base", "to": "end", "lie": "horizontal"}, {"id": "e", "service": "drain", "from": "foot", "to": "end", "lie": "horizontal"},
			{"id": "g", "service": "drain", "from": "end", "to": "c", "lie": "horizontal"},
			{"id": "v", "service": "vent", "from": "top", "to": "t", "lie": "vertical"}]`)
	expect(t, got, map[string]string{"up1": "common", "up2": "common", "low": "stack", "foot": "wet"})
	roles := map[string]string{}
	for _, d := range f.Drains {
		roles[d.ID] = d.Role
	}
	if diff := cmp.Diff(map[string]string{"a": "fixture_drain", "b": "fixture_drain", "d": "fixture_drain", "e": "fixture_drain",
		"s1": "stack", "s2": "stack", "h": "building_drain", "g": "building_drain"}, roles); diff != "" {
		t.Errorf("roles (-want +got):\n%s", diff)
	}
	// The stack vent serves the stack as a whole: three sinks of 2, 4 in at its base.
	v := at(t, f.Vents, "v")
	want(t, "load", v.Load, 6000)
	want(t, "drain", v.DrainDN, 100)
}

func TestCircuitCombinationAndBasin(t *testing.T) {
	line := func(venting string) string {
		return `"fixtures": [{"id": "f", "kind": "floor_drain"}, {"id": "g", "kind": "floor_drain"}, {"id": "h", "kind": "floor_drain"}], "junctions": [{"id": "j1"}, {"id": "j2"}, {"id": "j3"}],
		"terminals": [{"id": "t", "kind": "roof_vent"}], "connections": [{"id": "c", "kind": "branch"}],
		"pipes": [{"id": "a", "service": "drain", "from": "f", "to": "j1"}, {"id": "b", "service": "drain", "from": "g", "to": "j2"}, {"id": "d", "service": "drain", "from": "h", "to": "j3"},
			{"id": "r1", "service": "drain", "from": "j1", "to": "j2", "venting": "` + venting + `"}, {"id": "r2", "service": "drain", "from": "j2", "to": "j3", "venting": "` + venting + `"},
			{"id": "r3", "service": "drain", "from": "j3", "to": "c", "venting": "` + venting + `"}`
	}
	for _, venting := range []string{"circuit", "combination"} {
		got, f := methods(t, line(venting)+`, {"id": "v", "service": "vent", "from": "j2", "to": "t"}]`)
		expect(t, got, map[string]string{"f": venting, "g": venting, "h": venting})
		for _, x := range f.Fixtures {
			if x.VentID != "v" {
				t.Errorf("%s relies on %q", x.ID, x.VentID)
			}
		}
		if len(f.WetVents) != 3 || f.WetVents[0].Kind != venting {
			t.Errorf("wet vents = %+v", f.WetVents)
		}
		// Stated, but no vent reaches the line.
		got, _ = methods(t, line(venting)+`]`)
		expect(t, got, map[string]string{"f": "none", "g": "none", "h": "none"})
	}
	sump := `"fixtures": [{"id": "f", "kind": "floor_drain"}], "basins": [{"id": "s"}], "terminals": [{"id": "t", "kind": "wall_vent"}],
		"pipes": [{"id": "a", "service": "drain", "from": "f", "to": "s"}`
	got, f := methods(t, sump+`, {"id": "v", "service": "vent", "from": "s", "to": "t", "size": "2 in", "length": "20 ft"}]`)
	expect(t, got, map[string]string{"f": "basin"})
	if b := at(t, f.Basins, "s"); b.VentID != "v" || b.VentJoined || b.VentEndsAt != "open_air" || f.Building.OpenAirVents != 0 {
		t.Errorf("basin = %+v, open air vents %d", b, f.Building.OpenAirVents)
	}
	if v := at(t, f.Vents, "v"); v.ServesDrains || !v.ServesBasin || v.FromDrain || v.DrainDN != nil {
		t.Errorf("vent = %+v", v)
	}
	got, _ = methods(t, sump+`]`)
	expect(t, got, map[string]string{"f": "none"})
}

// Two mop sinks join where a circuit line ends, the drain below it states no
// venting. By the model codes (from memory) a circuit-vented branch reaches
// from its circuit vent to the last fixture drain that joins it.
func TestFixtureAtTheEndOfACircuitLine(t *testing.T) {
	body := func(lie, vents string) string {
		return `"fixtures": [{"id": "f", "kind": "lavatory"}, {"id": "g", "kind": "sink"}, {"id": "m", "kind": "mop_sink"}, {"id": "n", "kind": "mop_sink"}], "junctions": [{"id": "j0"}, {"id": "j1"}, {"id": "j2"}, {"id": "j3"}],
		"terminals": [{"id": "t", "kind": "roof_vent"}], "connections": [{"id": "c", "kind": "branch"}],
		"pipes": [{"id": "a", "service": "drain", "from": "f", "to": "j0"}, {"id": "r0", "service": "drain", "from": "j0", "to": "j1"}, {"id": "b", "service": "drain", "from": "g", "to": "j2"},
			{"id": "d", "service": "drain", "from": "m", "to": "j3"}, {"id": "e", "service": "drain", "from": "n", "to": "j3"},
			{"id": "r1", "service": "drain", "from": "j1", "to": "j2", "venting": "circuit"}, {"id": "r2", "service": "drain", "from": "j2", "to": "j3", "venting": "circuit"},
			{"id": "r3", "service": "drain", "from": "j3", "to": "c", "lie": "` + lie + `"}, ` + vents + `]`
	}
	kinds := func(f *Facts) (list []string) {
		for _, w := range f.WetVents {
			list = append(list, w.ID+" "+w.Kind)
		}
		return list
	}
	got, f := methods(t, body("horizontal", `{"id": "v", "service": "vent", "from": "j1", "to": "t"}`))
	expect(t, got, map[string]string{"f": "circuit", "g": "circuit", "m": "circuit", "n": "circuit"})
	if diff := cmp.Diff([]string{"r1 circuit", "r2 circuit"}, kinds(f)); diff != "" {
		t.Errorf("wet vents (-want +got):\n%s", diff)
	}
	if w := at(t, f.WetVents, "r2"); w.Fixtures != 2 || w.OnLine != 4 {
		t.Errorf("two fixtures drain through r2 and two join where it ends: %+v", w)
	}
	// Where the drain drops away at the end of the line the sinks stand on no
	// level branch: they are wet-vented, and the drains above say so as well.
	got, f = methods(t, body("vertical", `{"id": "v", "service": "vent", "from": "j1", "to": "t"}`))
	expect(t, got, map[string]string{"f": "circuit", "g": "circuit", "m": "wet", "n": "wet"})
	if diff := cmp.Diff([]string{"r1 circuit", "r1 wet", "r2 circuit", "r2 wet"}, kinds(f)); diff != "" {
		t.Errorf("wet vents (-want +got):\n%s", diff)
	}
	for _, w := range f.WetVents {
		if w.Kind == "wet" && !cmp.Equal(w.VentedKinds, []string{"mop_sink"}) {
			t.Errorf("%s brings air to the mop sinks: %+v", w.ID, w)
		}
	}
	// The vent of a fixture upstream of the line is no circuit vent.
	got, f = methods(t, body("horizontal", `{"id": "v", "service": "vent", "from": "j0", "to": "t"}`))
	expect(t, got, map[string]string{"f": "individual", "g": "wet", "m": "wet", "n": "wet"})
	if diff := cmp.Diff([]string{"r0 wet", "r1 circuit", "r1 wet", "r2 circuit", "r2 wet"}, kinds(f)); diff != "" {
		t.Errorf("wet vents (-want +got):\n%s", diff)
	}
}

// An arm that is one upright pipe has no level part, and so no slope.
func TestArmWithoutALevelPart(t *testing.T) {
	for lie, level := range map[string]bool{"vertical": false, "sloped_45": false, "horizontal": true} {
		_, f := methods(t, `"fixtures": [{"id": "f", "kind": "floor_drain"}], "junctions": [{"id": "j"}], "terminals": [{"id": "t", "kind": "roof_vent"}], "connections": [{"id": "c", "kind": "branch"}],
			"pipes": [{"id": "a", "service": "drain", "from": "f", "to": "j", "lie": "`+lie+`", "length": "1 ft", "slope": "1/4 in/ft"}, {"id": "d", "service": "drain", "from": "j", "to": "c"}, {"id": "v", "service": "vent", "from": "j", "to": "t"}]`)
		if a := at(t, f.TrapArms, "f"); a.LevelPart != level || (a.Slope != nil) != level {
			t.Errorf("%s: level part %v, slope %v", lie, a.LevelPart, a.Slope)
		}
	}
}
