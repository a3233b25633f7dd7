package facts

import (
	"os"
	"testing"

	"backpitch/engine/profile"
)

// 21 gpm count 42 units at 2 a gpm (Wisconsin SPS 382 course notes); a 3 in
// closet of 1.28 gal in a dwelling counts 3 units and a bathroom group 5 (ICC
// plumbing code Table 709.1, from memory).
func TestFromProfile(t *testing.T) {
	p, err := profile.Load(os.DirFS("../../policies"), "ipc-2021")
	if err != nil {
		t.Fatal(err)
	}
	tab := FromProfile(p)
	if load, ok := tab.PumpLoad(1325); !ok || load < 41_950 || load > 42_050 {
		t.Errorf("PumpLoad(21 gpm) = %d, %v", load, ok)
	}
	flush := int64(4845)
	row, ok := tab.Fixture(FixtureQuery{Kind: "water_closet", Use: "private", FlushType: "tank", Flush: &flush})
	if !ok || row.Load == nil || *row.Load != 3000 || row.Class == "" {
		t.Errorf("Fixture = %+v, %v", row, ok)
	}
	if load, ok := tab.GroupLoad(flush); !ok || load != 5000 {
		t.Errorf("GroupLoad = %d, %v", load, ok)
	}
	if slope, ok := tab.MinSlope(50); !ok || slope != 20_833 {
		t.Errorf("MinSlope = %d, %v", slope, ok)
	}
	if _, ok := tab.MinSlope(77); ok {
		t.Error("a slope for a size that no table has")
	}
	low, okLow := tab.PeakFlow(PeakQuery{Load: 5000})
	high, okHigh := tab.PeakFlow(PeakQuery{Load: 50_000})
	if !okLow || !okHigh || low <= 0 || high <= low || high >= 10*low {
		t.Errorf("peaks %d, %d: a curve rises more slowly than the load", low, high)
	}
	if _, ok := tab.PeakFlow(PeakQuery{Load: 1 << 40}); ok {
		t.Error("a peak beyond the curve")
	}
}

// Discharge units 2, 0.5 and 0.6 with K 0.5: the formula gives 0.880 L/s, the
// largest unit governs with 2 L/s; 0.5, 0.5 and 1.5 with K 1.2: 1.897 L/s
// (cases en12056-001 and en12056-005 of the reference set).
func TestDischargeUnits(t *testing.T) {
	p := &profile.Profile{Method: profile.Method{Load: "discharge_units", K: map[string]int64{"intermittent": 500, "special": 1200}}}
	tab := FromProfile(p)
	if flow, ok := tab.PeakFlow(PeakQuery{Load: 3100, Largest: 2000, Use: "intermittent"}); !ok || flow != 2000 {
		t.Errorf("flow = %d, %v, want 2000", flow, ok)
	}
	if flow, ok := tab.PeakFlow(PeakQuery{Load: 2500, Largest: 1500, Use: "special"}); !ok || flow != 1897 {
		t.Errorf("flow = %d, %v, want 1897", flow, ok)
	}
	if _, ok := tab.PeakFlow(PeakQuery{Load: 2500}); ok {
		t.Error("a flow though the use of the building is not stated")
	}
	if _, ok := tab.PumpLoad(1000); ok || tab.CountsPumps() {
		t.Error("pumped flow is no load in discharge units")
	}
}
