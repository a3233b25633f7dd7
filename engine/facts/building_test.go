package facts

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestGravityFirst(t *testing.T) {
	// The sewer is 40 ft away. 2 in drains need 1/4 in/ft: 10 in.
	f := derive(t, `"building": {"sewer_invert": "-20 in", "sewer_distance": "40 ft", "fixture_use": "frequent"},
		"fixtures": [{"id": "high", "kind": "sink", "trap": {"type": "p_trap", "size": "2 in", "weir": "-10 in"}}, {"id": "low", "kind": "sink", "trap": {"type": "p_trap", "size": "2 in", "weir": "-11 in"}}],
		"junctions": [{"id": "j"}], "basins": [{"id": "s"}],
		"pipes": [{"id": "a", "service": "drain", "from": "high", "to": "j", "size": "2 in"}, {"id": "b", "service": "drain", "from": "low", "to": "j", "size": "2 in"}, {"id": "d", "service": "drain", "from": "j", "to": "s"}]`)
	high, low := at(t, f.Fixtures, "high"), at(t, f.Fixtures, "low")
	near(t, "fall needed", high.FallNeeded, 10*in, 2e-5) // the profile rounds its slope to a millionth
	want(t, "fall of the high one", high.FallAvailable, 10*in)
	want(t, "fall of the low one", low.FallAvailable, 9*in)
	want(t, "could fall", at(t, f.Basins, "s").CouldFall, 1)
	want(t, "cannot fall and is not pumped", f.Building.CannotFall, 0)
	if low.DrainsTo != "basin" || f.Building.FixtureUse != "frequent" || f.Building.FixturesOnGravity != 0 {
		t.Errorf("low = %+v", low)
	}
	g := derive(t, `"building": {"sewer_invert": "-20 in"}, "fixtures": [{"id": "f", "kind": "sink", "trap": {"type": "p_trap", "size": "2 in"}}], "basins": [{"id": "s"}],
		"pipes": [{"id": "a", "service": "drain", "from": "f", "to": "s"}]`)
	absent(t, "could fall without a weir", at(t, g.Basins, "s").CouldFall)
}

func TestBackwater(t *testing.T) {
	body := func(floor, valve string) string {
		return `"building": {"upstream_manhole_rim": "0 ft", "use": "one_family", "water_closets_elsewhere": 2, "frost_closure": "yes"},
		"fixtures": [{"id": "up", "kind": "water_closet", "floor": "3 ft"}, {"id": "down", "kind": "sink", "floor": "-3 ft"}, {"id": "past", "kind": "sink"` + floor + `}],
		"junctions": [{"id": "j"}, {"id": "k"}], "connections": [{"id": "c", "kind": "building_sewer"` + valve + `}],
		"pipes": [{"id": "a", "service": "drain", "from": "up", "to": "j"}, {"id": "b", "service": "drain", "from": "down", "to": "j"},
			{"id": "d", "service": "drain", "from": "j", "to": "k", "devices": [{"id": "bv", "kind": "backwater_valve", "accessible": true}]},
			{"id": "e", "service": "drain", "from": "past", "to": "k"}, {"id": "f", "service": "drain", "from": "k", "to": "c"}]`
	}
	f := derive(t, body(`, "floor": "4 ft"`, ""))
	v := at(t, f.Backwater, "bv")
	want(t, "above", v.AboveServed, 1)
	if diff := cmp.Diff([]string{"up"}, v.Above); diff != "" {
		t.Errorf("above (-want +got):\n%s", diff)
	}
	b := f.Building
	want(t, "below the manhole", b.BelowManhole, 1)
	if b.WaterClosets != 3 || b.BackwaterValves != 1 || b.FixturesOnGravity != 3 || !*b.FrostClosure || !b.ManholeRimStated {
		t.Errorf("building = %+v", b)
	}
	if !at(t, f.Fixtures, "up").ThroughValve || at(t, f.Fixtures, "past").ThroughValve || !*at(t, f.Fixtures, "down").BelowManhole {
		t.Error("up passes the valve, past does not, down lies below")
	}
	absent(t, "below, one floor not stated", derive(t, body("", "")).Building.BelowManhole)
	// A valve stated on the connection stands beyond all three.
	f = derive(t, body(`, "floor": "4 ft"`, `, "has_backwater_valve": true`))
	if f.Building.BackwaterValves != 2 {
		t.Errorf("backwater valves = %d", f.Building.BackwaterValves)
	}
	for _, x := range f.Fixtures {
		if !x.ThroughValve {
			t.Errorf("%s passes the valve of the connection", x.ID)
		}
	}
}

func TestEmptyDesignHasEmptyGroups(t *testing.T) {
	f := derive(t, `"fixtures": []`)
	if f.Fixtures == nil || f.Backwater == nil || f.Project.ID != "project" || f.Building.ID != "building" {
		t.Errorf("facts = %+v", f)
	}
}
