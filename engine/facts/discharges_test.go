package facts

import (
	"strings"
	"testing"
)

// Two pumps whose lines meet at y: a check valve does for a pump only where
// its line is still its own (common practice).
func TestOwnCheckValve(t *testing.T) {
	check := func(id string) string { return `, "devices": [{"id": "` + id + `", "kind": "check_valve"}]}` }
	body := func(first, second, shared string) string {
		s := strings.Replace(pumped, `"to": "y"}, {"id": "m2"`, `"to": "y"`+first+`, {"id": "m2"`, 1)
		s = strings.Replace(s, `"from": "p2", "to": "y"}`, `"from": "p2", "to": "y"`+second, 1)
		return strings.Replace(s, `"from": "y", "to": "r"}`, `"from": "y", "to": "r"`+shared, 1)
	}
	tests := []struct {
		name, first, second, shared string
		has, own                    [2]bool
	}{
		{"in the shared pipe alone", "}", "}", check("c0"), [2]bool{true, true}, [2]bool{false, false}},
		{"one of two", check("c1"), "}", check("c0"), [2]bool{true, true}, [2]bool{true, false}},
		{"each its own", check("c1"), check("c2"), "}", [2]bool{true, true}, [2]bool{true, true}},
		{"none", "}", "}", "}", [2]bool{false, false}, [2]bool{false, false}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := derive(t, body(tt.first, tt.second, tt.shared))
			for i, id := range []string{"m1", "m2"} {
				if m := at(t, f.Discharges, id); m.CheckValve != tt.has[i] || m.OwnCheck != tt.own[i] {
					t.Errorf("%s has a check valve %v, its own %v; want %v, %v", id, m.CheckValve, m.OwnCheck, tt.has[i], tt.own[i])
				}
			}
		})
	}
	// A pump alone on its line owns whatever stands in it.
	if m := at(t, derive(t, lift).Discharges, "m"); !m.OwnCheck {
		t.Errorf("discharge = %+v", m)
	}
}

// A junction inside the design says where the line enters, and that no fixture
// drain stands upstream of it.
func TestLineThatEntersAJunction(t *testing.T) {
	body := func(more string) string {
		return `"fixtures": [{"id": "wc", "kind": "water_closet"}, {"id": "s", "kind": "sink"}], "basins": [{"id": "b"}], "pumps": [{"id": "p", "basin": "b", "stated_rate": "1 L/s"}],
		"junctions": [{"id": "j", "fitting": "wye", "entry": "side"}, {"id": "u"}], "connections": [{"id": "c", "kind": "building_drain"}],
		"pipes": [{"id": "a", "service": "drain", "from": "wc", "to": "b"}, {"id": "m", "service": "pumped", "from": "p", "to": "j"},
			{"id": "e", "service": "drain", "from": "u", "to": "j", "lie": "horizontal", "length": "6 ft", "existing_load": "9 dfu"}, {"id": "d", "service": "drain", "from": "j", "to": "c", "lie": "horizontal"}` + more + `]`
	}
	f := derive(t, body(`, {"id": "g", "service": "drain", "from": "s", "to": "c"}`))
	if m := at(t, f.Discharges, "m"); m.Entry != "side" || !m.NoFixtureDrain || m.FromFixture != nil {
		t.Errorf("no fixture drain stands upstream: %+v", m)
	}
	f = derive(t, body(`, {"id": "g", "service": "drain", "from": "s", "to": "u"}`))
	m := at(t, f.Discharges, "m")
	want(t, "from the fixture drain", m.FromFixture, 6*12*in)
	if m.NoFixtureDrain {
		t.Errorf("a fixture drain joins at u: %+v", m)
	}
	// Of a connection nothing is known that it does not state.
	if m := at(t, derive(t, lift).Discharges, "m"); m.NoFixtureDrain {
		t.Errorf("discharge = %+v", m)
	}
}
