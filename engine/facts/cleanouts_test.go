package facts

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// A stack, 30 ft of building drain with a turn and a cleanout 20 ft along,
// 10 ft more to the sewer; a branch of 8 ft joins.
const mains = `"fixtures": [{"id": "f", "kind": "sink"}, {"id": "g", "kind": "sink"}, {"id": "h", "kind": "lavatory", "trap": {"type": "p_trap", "size": "1-1/4 in"}}, {"id": "i", "kind": "floor_drain"}],
	"junctions": [{"id": "top"}, {"id": "base"}, {"id": "k"}, {"id": "u"}], "connections": [{"id": "c", "kind": "building_sewer"}],
	"pipes": [
		{"id": "a", "service": "drain", "from": "f", "to": "top", "lie": "horizontal"}, {"id": "b", "service": "drain", "from": "g", "to": "top", "lie": "horizontal"},
		{"id": "s", "service": "drain", "from": "top", "to": "base", "lie": "vertical", "length": "10 ft"},
		{"id": "d1", "service": "drain", "from": "base", "to": "k", "lie": "horizontal", "length": "30 ft", "size": "3 in",
			"bends": [{"kind": "eighth_bend", "at": "1 ft"}, {"kind": "long_sweep", "at": "24 ft"}],
			"devices": [{"id": "co", "kind": "cleanout", "at": "20 ft", "size": "3 in", "clearance": "18 in"}]},
		{"id": "d2", "service": "drain", "from": "k", "to": "c", "lie": "horizontal", "length": "10 ft", "size": "3 in"},
		{"id": "h1", "service": "drain", "from": "h", "to": "u", "lie": "horizontal", "length": "2 ft", "size": "1-1/2 in"}, {"id": "i1", "service": "drain", "from": "i", "to": "u", "lie": "horizontal", "length": "3 ft", "size": "1-1/2 in"},
		{"id": "br", "service": "drain", "from": "u", "to": "k", "lie": "horizontal", "length": "8 ft", "size": "2 in"}]`

func TestCleanouts(t *testing.T) {
	f := derive(t, mains)
	var ids []string
	for _, n := range f.CleanoutNeeds {
		ids = append(ids, n.ID)
	}
	wantIDs := []string{"br/upper-end", "d1/turn-2", "d1/upper-end", "d2/exit", "s/stack-base"}
	if diff := cmp.Diff(wantIDs, ids); diff != "" {
		t.Fatalf("needs (-want +got):\n%s", diff)
	}
	const ft = 12 * in
	end := at(t, f.CleanoutNeeds, "d1/upper-end")
	want(t, "building drain below its upper end", end.Length, 40*ft)
	if end.Any || end.HasOne || end.Closet || end.Role != "building_drain" {
		t.Errorf("upper end = %+v", end)
	}
	turn := at(t, f.CleanoutNeeds, "d1/turn-2")
	want(t, "turn", turn.Turn, 90_000)
	want(t, "from the cleanout to the turn", turn.Distance, 4*ft)
	if !turn.Any || turn.HasOne {
		t.Errorf("turn = %+v", turn)
	}
	want(t, "from the cleanout to the exit", at(t, f.CleanoutNeeds, "d2/exit").Distance, 20*ft)
	if b := at(t, f.CleanoutNeeds, "br/upper-end"); !b.Closet || !slices.Contains(b.Kinds, "lavatory") {
		t.Errorf("branch = %+v: the lavatory's trap can be taken off", b)
	}
	// Upper end to cleanout 20 ft, cleanout to exit 20 ft, branch 2 + 8 ft from
	// where its run begins.
	runs := map[string]int64{}
	for _, r := range f.CleanoutRuns {
		runs[r.ID] = *r.Length
	}
	if diff := cmp.Diff(map[string]int64{"d1": 20 * ft, "d2": 20 * ft, "br": 8 * ft}, runs); diff != "" {
		t.Errorf("runs (-want +got):\n%s", diff)
	}
	// An eighth bend stands before the cleanout of d1, a long sweep after it.
	for id, turns := range map[string]int64{"d1": 90_000, "d2": 90_000, "br": 0} {
		if got := at(t, f.CleanoutRuns, id).Turns; got != turns {
			t.Errorf("turns of %s = %d, want %d", id, got, turns)
		}
	}
	// Without the cleanout both turn the same run: 45 + 90 degrees.
	f2 := derive(t, strings.Replace(mains, `"kind": "cleanout"`, `"kind": "union"`, 1))
	if got := at(t, f2.CleanoutRuns, "d2").Turns; got != 135_000 {
		t.Errorf("turns of the whole run = %d", got)
	}
	co := at(t, f.Cleanouts, "co")
	want(t, "size of the drain", co.PipeDN, 80)
	want(t, "clearance", co.Clearance, 18*in)
}

func TestCleanoutAtStackBase(t *testing.T) {
	body := func(device string) string {
		return `"fixtures": [{"id": "f", "kind": "sink"}, {"id": "g", "kind": "sink"}], "junctions": [{"id": "top"}, {"id": "base"}], "connections": [{"id": "c", "kind": "building_sewer"}],
		"pipes": [{"id": "a", "service": "drain", "from": "f", "to": "top", "lie": "horizontal"}, {"id": "b", "service": "drain", "from": "g", "to": "top", "lie": "horizontal"},
			{"id": "s", "service": "drain", "from": "top", "to": "base", "lie": "vertical", "length": "10 ft"` + device + `},
			{"id": "d", "service": "drain", "from": "base", "to": "c", "lie": "horizontal", "length": "30 ft"}]`
	}
	tests := []struct {
		name, device string
		base, upper  bool
	}{
		{"none", "", false, false},
		{"place not stated", `, "devices": [{"id": "co", "kind": "cleanout"}]`, true, true},
		{"1 ft over the base", `, "devices": [{"id": "co", "kind": "cleanout", "at": "9 ft"}]`, true, true},
		{"high up", `, "devices": [{"id": "co", "kind": "cleanout", "at": "2 ft"}]`, false, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := derive(t, body(tt.device))
			if got := at(t, f.CleanoutNeeds, "s/stack-base").HasOne; got != tt.base {
				t.Errorf("stack base has one: %v, want %v", got, tt.base)
			}
			if got := at(t, f.CleanoutNeeds, "d/upper-end").HasOne; got != tt.upper {
				t.Errorf("upper end has one: %v, want %v", got, tt.upper)
			}
		})
	}
}

// Two drains meet where the sewer begins: the exit is one place and asks for
// one cleanout, whichever of the two is the building drain.
func TestOneExitForDrainsThatMeetAtTheSewer(t *testing.T) {
	for stated, want := range map[string][]string{
		`"role": "building_drain", `: {"main/exit"},
		`"role": "branch", `:         {"main/exit"}, // the larger of two branches runs on
	} {
		f := derive(t, `"fixtures": [{"id": "f", "kind": "sink"}, {"id": "g", "kind": "sink"}], "junctions": [{"id": "out"}, {"id": "k"}], "connections": [{"id": "c", "kind": "building_sewer"}],
			"pipes": [{"id": "a", "service": "drain", "from": "f", "to": "k", "lie": "horizontal"},
				{"id": "main", "service": "drain", "from": "k", "to": "out", "lie": "horizontal", `+stated+`"length": "20 ft", "size": "4 in", "devices": [{"id": "co", "kind": "cleanout", "at": "19 ft"}]},
				{"id": "b", "service": "drain", "from": "g", "to": "out", "lie": "horizontal", "role": "branch", "length": "9 ft", "size": "2 in"},
				{"id": "s", "service": "drain", "from": "out", "to": "c", "lie": "horizontal", "role": "building_sewer", "length": "30 ft", "size": "4 in"}]`)
		var got []string
		for _, n := range f.CleanoutNeeds {
			if n.Reason == "building_exit" {
				got = append(got, n.ID)
				if !n.HasOne {
					t.Errorf("%s: the cleanout stands a foot before the exit", n.ID)
				}
			}
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%sexits (-want +got):\n%s", stated, diff)
		}
	}
}

func TestFittings(t *testing.T) {
	f := derive(t, `"fixtures": [{"id": "wc1", "kind": "water_closet"}, {"id": "wc2", "kind": "water_closet"}, {"id": "s", "kind": "sink"}],
		"junctions": [{"id": "j", "fitting": "double_sanitary_tee", "back_to_back": true}, {"id": "k", "fitting": "wye"}, {"id": "m", "fitting": "wye", "run": "x"}], "connections": [{"id": "c", "kind": "branch"}],
		"pipes": [{"id": "a", "service": "drain", "from": "wc1", "to": "j", "lie": "horizontal", "size": "3 in"}, {"id": "b", "service": "drain", "from": "wc2", "to": "j", "lie": "horizontal", "size": "3 in"},
			{"id": "d", "service": "drain", "from": "j", "to": "k", "lie": "vertical", "size": "4 in"},
			{"id": "e", "service": "drain", "from": "k", "to": "m", "lie": "horizontal", "size": "4 in", "bends": [{"kind": "eighth_bend"}, {"kind": "quarter_bend", "change": "vertical_to_horizontal"}]},
			{"id": "x", "service": "drain", "from": "s", "to": "m", "lie": "horizontal", "size": "2 in"},
			{"id": "g", "service": "drain", "from": "m", "to": "c", "lie": "horizontal", "size": "4 in"}]`)
	changes := map[string][]string{}
	for _, x := range f.Fittings {
		if x.Changes == nil {
			t.Errorf("%s has no changes", x.ID)
			continue
		}
		changes[x.ID] = *x.Changes
	}
	if diff := cmp.Diff(map[string][]string{
		"j": {"horizontal_to_vertical"}, "k": {"vertical_to_horizontal"}, "m": {"horizontal_to_horizontal"},
		"e/bend-1": {"horizontal_to_horizontal"}, "e/bend-2": {"vertical_to_horizontal"},
	}, changes); diff != "" {
		t.Errorf("changes (-want +got):\n%s", diff)
	}
	if j := at(t, f.Fittings, "j"); !j.Double || !j.BackToBack || j.Closets != 2 {
		t.Errorf("j = %+v", j)
	}
	g := derive(t, `"fixtures": [{"id": "f", "kind": "sink"}], "junctions": [{"id": "j"}, {"id": "u"}], "connections": [{"id": "c", "kind": "branch"}],
		"pipes": [{"id": "a", "service": "drain", "from": "f", "to": "j", "lie": "horizontal"}, {"id": "b", "service": "drain", "from": "j", "to": "u", "lie": "horizontal"}, {"id": "d", "service": "drain", "from": "u", "to": "c"}]`)
	if j := at(t, g.Fittings, "j"); j.Changes == nil || len(*j.Changes) != 0 {
		t.Errorf("straight through: %v", j.Changes)
	}
	absent(t, "changes where a lie is not known", at(t, g.Fittings, "u").Changes)
}

func TestLargestInflowAndDeadEnd(t *testing.T) {
	f := derive(t, `"fixtures": [{"id": "wc", "kind": "water_closet", "trap": {"type": "integral", "size": "4 in"}}], "junctions": [{"id": "j"}, {"id": "x"}, {"id": "y"}], "connections": [{"id": "c", "kind": "branch"}],
		"pipes": [{"id": "a", "service": "drain", "from": "wc", "to": "j", "size": "3 in"}, {"id": "b", "service": "drain", "from": "j", "to": "c", "size": "2 in"},
			{"id": "dead", "service": "drain", "from": "x", "to": "j", "size": "2 in"},
			{"id": "rod", "service": "drain", "from": "y", "to": "j", "size": "2 in", "devices": [{"id": "co", "kind": "cleanout"}]}]`)
	a, b := at(t, f.Drains, "a"), at(t, f.Drains, "b")
	want(t, "into a", a.LargestInflow, 100)
	want(t, "into b", b.LargestInflow, 80)
	if a.InflowKind != "closet_outlet" || b.InflowKind != "pipe" || b.LargestFrom != "a" {
		t.Errorf("a from %s, b from %s %s", a.InflowKind, b.InflowKind, b.LargestFrom)
	}
	if !at(t, f.Drains, "dead").DeadEnd || at(t, f.Drains, "rod").DeadEnd || a.DeadEnd || b.DeadEnd {
		t.Error("only the drain without fixture or cleanout is a dead end")
	}
}

// What a fixture's own trap sends into its drain is named by who answers for
// its size: the trap, the outlet of a water closet, or else the fixture.
func TestInflowFromAFixture(t *testing.T) {
	for fixture, want := range map[string]string{
		`"kind": "sink", "trap": {"type": "p_trap", "size": "2 in"}`: "trap",
		`"kind": "sink", "trap": {"type": "p_trap"}`:                 "trap",
		`"kind": "sink"`: "trap",
		`"kind": "urinal", "trap": {"type": "integral", "size": "2 in"}`:                     "fixture_outlet",
		`"kind": "sink", "trap": {"type": "none", "size": "2 in"}`:                           "fixture_outlet",
		`"kind": "sink", "indirect_waste": true, "trap": {"type": "p_trap", "size": "2 in"}`: "fixture_outlet",
		`"kind": "water_closet"`: "closet_outlet",
	} {
		f := derive(t, `"fixtures": [{"id": "f", `+fixture+`}], "connections": [{"id": "c", "kind": "branch"}],
			"pipes": [{"id": "a", "service": "drain", "from": "f", "to": "c", "size": "1-1/2 in"}]`)
		if got := at(t, f.Drains, "a").InflowKind; got != want {
			t.Errorf("%s: %q, want %q", fixture, got, want)
		}
	}
}

// The same branch joins 30 ft below the base of the stack: from the base to k.
func TestBranchBelowAStack(t *testing.T) {
	f := derive(t, mains)
	br := at(t, f.Drains, "br")
	if !br.BelowStack {
		t.Errorf("branch = %+v", br)
	}
	want(t, "from the stack base", br.FromStackBase, 30*12*in)
	want(t, "3 in drain that it joins", br.JoinedDiameter, 3*in)
	want(t, "load of two sinks on it", br.JoinedLoad, 4000)
	for _, id := range []string{"d1", "d2", "s", "h1", "a"} {
		if d := at(t, f.Drains, id); d.BelowStack || d.FromStackBase != nil {
			t.Errorf("%s joins no drain below a stack as a branch: %+v", id, d)
		}
	}
	// A length left out hides the distance, not that there is a stack.
	f = derive(t, strings.Replace(mains, `"length": "30 ft", `, "", 1))
	br = at(t, f.Drains, "br")
	absent(t, "from the stack base", br.FromStackBase)
	if !br.BelowStack {
		t.Errorf("branch = %+v", br)
	}
	// Nothing but the branch's size enters k beside the run through it.
	want(t, "branch of k", at(t, f.Fittings, "k").BranchDN, 50)
	absent(t, "branch of top, whose drains have no size", at(t, f.Fittings, "top").BranchDN)
	if run := at(t, f.CleanoutRuns, "br"); run.Size != "DN 50" || *run.DN != 50 {
		t.Errorf("run = %+v", run)
	}
}
