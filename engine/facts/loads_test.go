package facts

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

// A published sizing question adds the loads of three stacks along a building
// drain: 25, then 35, then 45 units
// (http://www.terrylove.com/forums/showthread.php?2977-DWV-Sizing&p=13197&mode=threaded).
func TestPublishedLoadSums(t *testing.T) {
	f := derive(t, `"fixtures": [{"id": "fa", "kind": "other", "load": "25 dfu"}, {"id": "fb", "kind": "other", "load": "10 dfu"}, {"id": "fc", "kind": "other", "load": "10 dfu"}],
		"junctions": [{"id": "ja"}, {"id": "jb"}, {"id": "jc"}], "connections": [{"id": "c", "kind": "building_sewer", "existing_load": "5 dfu"}],
		"pipes": [
			{"id": "sa", "service": "drain", "from": "fa", "to": "ja", "role": "stack"},
			{"id": "sb", "service": "drain", "from": "fb", "to": "jb", "role": "stack"},
			{"id": "sc", "service": "drain", "from": "fc", "to": "jc", "role": "stack"},
			{"id": "a", "service": "drain", "from": "ja", "to": "jb", "slope": "1/8 in/ft"},
			{"id": "ab", "service": "drain", "from": "jb", "to": "jc", "slope": "1/8 in/ft"},
			{"id": "abc", "service": "drain", "from": "jc", "to": "c", "slope": "1/8 in/ft"}]`)
	for id, load := range map[string]int64{"a": 25_000, "ab": 35_000, "abc": 45_000} {
		b := at(t, f.Drains, id)
		want(t, id, b.Load, load)
		if b.Role != "building_drain" {
			t.Errorf("%s is a %s: it carries a stack to the sewer", id, b.Role)
		}
	}
	c := at(t, f.Connections, "c")
	want(t, "added", c.AddedLoad, 45_000)
	want(t, "total", c.TotalLoad, 50_000)
}

const washroom = `"fixtures": [{"id": "wc", "kind": "water_closet"}, {"id": "lav", "kind": "lavatory"}, {"id": "sh", "kind": "shower"}, {"id": "x", "kind": "sink"}],
	"junctions": [{"id": "j1"}, {"id": "j2"}, {"id": "j3"}], "connections": [{"id": "c", "kind": "branch"}],
	"pipes": [
		{"id": "b-wc", "service": "drain", "from": "wc", "to": "j1"}, {"id": "b-lav", "service": "drain", "from": "lav", "to": "j1"},
		{"id": "b1", "service": "drain", "from": "j1", "to": "j2"}, {"id": "b-x", "service": "drain", "from": "x", "to": "j2"},
		{"id": "b2", "service": "drain", "from": "j2", "to": "j3"}, {"id": "b-sh", "service": "drain", "from": "sh", "to": "j3"},
		{"id": "b3", "service": "drain", "from": "j3", "to": "c"}]`

func TestBathroomGroup(t *testing.T) {
	// 4 + 2 = 6, + 2 = 8, + 2 = 10 without the group; with it the three members
	// (8) count 5 from b3 on: 10 - 8 + 5 = 7.
	plain := derive(t, washroom)
	grouped := derive(t, washroom+`, "bathroom_groups": [{"id": "g", "fixtures": ["sh", "wc", "lav"]}]`)
	for id, loads := range map[string][2]int64{"b1": {6000, 6000}, "b2": {8000, 8000}, "b3": {10_000, 7000}} {
		want(t, id, at(t, plain.Drains, id).Load, loads[0])
		want(t, id+" with the group", at(t, grouped.Drains, id).Load, loads[1])
	}
	b3 := at(t, grouped.Drains, "b3")
	if diff := cmp.Diff([]string{"lavatory", "shower", "sink", "water_closet"}, b3.FixtureKinds); diff != "" {
		t.Errorf("kinds (-want +got):\n%s", diff)
	}
	if b3.Fixtures != 4 || b3.WaterClosets != 1 || b3.GravityClosets != 1 || b3.OnlyFixture != "" {
		t.Errorf("b3 = %+v", b3)
	}
	if b := at(t, grouped.Drains, "b-sh"); b.OnlyFixture != "sh" || b.Role != "fixture_drain" {
		t.Errorf("b-sh carries %q and is a %s", b.OnlyFixture, b.Role)
	}
	// A pair of 2 + 2 = 4 is less than the group's 5: it stays.
	small := derive(t, `"fixtures": [{"id": "wc", "kind": "water_closet"}, {"id": "lav", "kind": "lavatory"}], "junctions": [{"id": "j"}], "connections": [{"id": "c", "kind": "branch"}],
		"bathroom_groups": [{"id": "g", "fixtures": ["wc", "lav"]}], "pipes": [{"id": "a", "service": "drain", "from": "wc", "to": "j"},
		{"id": "b", "service": "drain", "from": "lav", "to": "j"}, {"id": "d", "service": "drain", "from": "j", "to": "c"}]`)
	want(t, "a group that counts less", at(t, small.Drains, "d").Load, 5000)
}

func TestUnknownLoad(t *testing.T) {
	f := derive(t, `"fixtures": [{"id": "a", "kind": "other"}, {"id": "b", "kind": "sink"}, {"id": "e", "kind": "other", "load": "3 dfu", "trap": {"type": "p_trap", "size": "4 in"}}],
		"junctions": [{"id": "j"}], "connections": [{"id": "c", "kind": "branch", "existing_load": "9 dfu"}],
		"pipes": [{"id": "pa", "service": "drain", "from": "a", "to": "j"}, {"id": "pb", "service": "drain", "from": "b", "to": "j"},
			{"id": "pe", "service": "drain", "from": "e", "to": "j"}, {"id": "p", "service": "drain", "from": "j", "to": "c"}]`)
	absent(t, "load of a", at(t, f.Drains, "pa").Load)
	absent(t, "load below a", at(t, f.Drains, "p").Load)
	absent(t, "load of the connection", at(t, f.Connections, "c").TotalLoad)
	want(t, "load of b", at(t, f.Drains, "pb").Load, 2000)
	want(t, "the greater of stated load and load by trap", at(t, f.Drains, "pe").Load, 7000)
	for id, from := range map[string]string{"a": "", "b": "table", "e": "trap"} {
		if got := at(t, f.Fixtures, id).LoadFrom; got != from {
			t.Errorf("load of %s from %q, want %q", id, got, from)
		}
	}
	for load, known := range map[string]bool{"2 dfu": true, "2 L/s": false} {
		g := derive(t, `"fixtures": [{"id": "e", "kind": "other", "load": "`+load+`"}]`)
		if e := at(t, g.Fixtures, "e"); !e.LoadStated || (e.Load != nil) != known || (e.StatedLoad != nil) != known {
			t.Errorf("%s in a profile that counts fixture units: %+v", load, e)
		}
	}
	if e := at(t, f.Fixtures, "e"); !e.LoadStated || *e.StatedLoad != 3000 || at(t, f.Fixtures, "a").LoadStated {
		t.Errorf("e states 3 units, a states none: %+v", e)
	}
	if p := at(t, f.Drains, "p"); p.Fixtures != 3 {
		t.Errorf("fixtures = %d", p.Fixtures)
	}
}

// Fixture units and discharge units do not convert into each other: what is
// there already, stated in the unit that the profile does not count in, is not known.
func TestExistingLoadInTheOtherUnitIsNotKnown(t *testing.T) {
	for _, c := range []struct {
		load  string
		units bool // the profile counts discharge units
		known bool
	}{{"6 dfu", false, true}, {"6 L/s", false, false}, {"6 dfu", true, false}, {"6 L/s", true, true}} {
		doc := read(t, `"fixtures": [{"id": "a", "kind": "sink"}], "junctions": [{"id": "j"}],
			"connections": [{"id": "c", "kind": "branch", "existing_load": "`+c.load+`"}, {"id": "e", "kind": "branch", "existing_load": "`+c.load+`"}],
			"pipes": [{"id": "p", "service": "drain", "from": "a", "to": "j"}, {"id": "q", "service": "drain", "from": "j", "to": "c", "existing_load": "`+c.load+`"}]`)
		f, _ := deriveWith(t, doc, tables{units: c.units})
		q, sewer, empty := at(t, f.Drains, "q"), at(t, f.Connections, "c"), at(t, f.Connections, "e")
		if (q.Load != nil) != c.known || (sewer.TotalLoad != nil) != c.known || (empty.ExistingLoad != nil) != c.known {
			t.Errorf("%s where discharge units are counted: %t: load %v, in all %v, existing %v", c.load, c.units, q.Load, sewer.TotalLoad, empty.ExistingLoad)
		}
		if c.known && *empty.ExistingLoad != 6000 {
			t.Errorf("%s is %d", c.load, *empty.ExistingLoad)
		}
	}
}

func TestExistingWorkEntersAtTheUpperEnd(t *testing.T) {
	f := derive(t, `"fixtures": [{"id": "a", "kind": "sink"}], "junctions": [{"id": "j"}], "connections": [{"id": "c", "kind": "branch", "existing_water_closets": 1}],
		"pipes": [{"id": "p", "service": "drain", "from": "a", "to": "j"}, {"id": "q", "service": "drain", "from": "j", "to": "c", "existing_load": "6 dfu", "existing_water_closets": 2}]`)
	p, q := at(t, f.Drains, "p"), at(t, f.Drains, "q")
	want(t, "p", p.Load, 2000)
	want(t, "q", q.Load, 8000)
	if p.WaterClosets != 0 || q.WaterClosets != 2 || at(t, f.Connections, "c").WaterClosets != 3 {
		t.Errorf("closets %d, %d", p.WaterClosets, q.WaterClosets)
	}
	if p.Role != "fixture_drain" || q.Role != "branch" {
		t.Errorf("roles %s, %s: q carries more than one fixture", p.Role, q.Role)
	}
}

// pumped is a closet and a sink in a basin with two pumps on one line, and a
// sink on the drain that takes them.
const pumped = `"fixtures": [{"id": "wc", "kind": "water_closet"}, {"id": "s1", "kind": "sink"}, {"id": "s2", "kind": "sink"}],
	"junctions": [{"id": "j"}, {"id": "y"}, {"id": "r"}], "basins": [{"id": "sump"}], "connections": [{"id": "c", "kind": "building_sewer"}],
	"pumps": [{"id": "p1", "basin": "sump", "stated_rate": "2 L/s", "duty": "duty"}, {"id": "p2", "basin": "sump", "stated_rate": "2 L/s", "duty": "standby"}],
	"pipes": [
		{"id": "a", "service": "drain", "from": "wc", "to": "j"}, {"id": "b", "service": "drain", "from": "s1", "to": "j"}, {"id": "d", "service": "drain", "from": "j", "to": "sump"},
		{"id": "m1", "service": "pumped", "from": "p1", "to": "y"}, {"id": "m2", "service": "pumped", "from": "p2", "to": "y"}, {"id": "m3", "service": "pumped", "from": "y", "to": "r"},
		{"id": "e", "service": "drain", "from": "s2", "to": "r"}, {"id": "f", "service": "drain", "from": "r", "to": "c"}]`

func TestPumpedLoad(t *testing.T) {
	f := derive(t, pumped)
	want(t, "load of the basin", at(t, f.Basins, "sump").Load, 6000)
	b := at(t, f.Drains, "f")
	// One pump of 2 L/s at 30 units a L/s, and a sink of 2: the standby adds none.
	want(t, "load below", b.Load, 62_000)
	want(t, "pumped flow", b.PumpedFlow, 2000)
	want(t, "design flow", b.DesignFlow, 2000+200)
	if b.WaterClosets != 1 || b.GravityClosets != 0 || b.Fixtures != 3 {
		t.Errorf("below the pump: %d closets, %d by gravity, %d fixtures, want 1, 0, 3 though two pumps share the line", b.WaterClosets, b.GravityClosets, b.Fixtures)
	}
	m := at(t, f.Discharges, "m1")
	want(t, "load of the rate", m.PumpLoad, 60_000)
	want(t, "load of the receiver", m.TotalLoad, 62_000)
	wc := at(t, f.Fixtures, "wc")
	if wc.DrainsTo != "basin" || wc.BasinID != "sump" || wc.ConnectionID != "c" {
		t.Errorf("wc drains to %s %q, %q", wc.DrainsTo, wc.BasinID, wc.ConnectionID)
	}
	// By discharge units pumped flow is no load.
	g, _ := deriveWith(t, read(t, pumped), tables{units: true})
	want(t, "units below", at(t, g.Drains, "f").Load, 2000)
	want(t, "flow below", at(t, g.Drains, "f").DesignFlow, 2200)
}
