package facts

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func near(t *testing.T, what string, got *int64, want, part float64) {
	t.Helper()
	if got == nil {
		t.Errorf("%s is absent, want %g", what, want)
	} else if math.Abs(float64(*got)-want) > part*want+0.5 {
		t.Errorf("%s = %d, want %g within %g", what, *got, want, part)
	}
}

// lift is one pump in a 24 in basin: 8 ft from its stop level to the sewer
// through 40 ft of 2 in pipe. Valves and bends lose K 5.3 by the design, the
// outlet K 1.
const lift = `"fixtures": [{"id": "wc", "kind": "water_closet"}], "basins": [{"id": "s", "shape": "round", "diameter": "24 in", "floor": "-9 ft", "levels": {"stop": "12 in", "start": "18 in", "alarm": "20 in"}, "inlet": {"height": "24 in", "size": "4 in"}}],
	"connections": [{"id": "c", "kind": "building_drain", "size": "4 in", "existing_load": "10 dfu", "entry": "top", "fitting": "wye"}],
	"pumps": [{"id": "p", "basin": "s", "kind": "solids_handling", "curve": [{"flow": "0 gpm", "head": "24 ft"}, {"flow": "30 gpm", "head": "20 ft"}, {"flow": "60 gpm", "head": "11 ft"}]}],
	"electrical": [{"id": "e", "pump": "p", "receptacle_distance": "8 ft"}],
	"pipes": [{"id": "a", "service": "drain", "from": "wc", "to": "s", "size": "3 in", "invert_to": "-7 ft"},
		{"id": "m", "service": "pumped", "from": "p", "to": "c", "size": "2 in", "material": "pvc_sch40", "length": "40 ft", "hazen_williams_c": {"low": 120, "expected": 150}, "invert_to": "0 ft", "pressure_rating": "10 psi",
			"devices": [{"id": "hole", "kind": "relief_hole", "hole": "3/16 in", "k": 0}, {"id": "check", "kind": "check_valve", "k": 3.3, "accessible": true}, {"id": "gate", "kind": "full_open_valve", "style": "gate", "k": 2}]}]`

// The same pump and pipe were run in an independent network solver (case
// oppoint-002 of the reference set: 54.7736 gpm at 12.5679 ft, 5.2370 ft/s).
func TestOperatingPoint(t *testing.T) {
	f := derive(t, lift)
	p := at(t, f.Pumps, "p")
	want(t, "static head", p.StaticHead, 8*12*in)
	near(t, "rate", p.Rate, 54.773641*63.0901964, 0.001) // mL/s in a gpm
	near(t, "head", p.Head, 12.567908*12*in, 0.001)
	near(t, "velocity", at(t, f.Discharges, "m").Velocity, 5.2369741*304.8, 0.001)
	want(t, "shut-off head", p.ShutOffHead, 24*12*in)
	if *p.CannotLift || *p.BeyondCurve || p.RateBasis != "operating_point" || !p.HasCheck || !p.HasRelief || p.WaterClosets != 1 {
		t.Errorf("pump = %+v", p)
	}
	want(t, "relief hole", p.ReliefHole, 4763) // 3/16 in, 4762.5 um
	want(t, "receptacle", p.Receptacle, 96*in)
	m := at(t, f.Discharges, "m")
	near(t, "pressure of 24 ft of water", m.PumpPressure, 24*0.3048*9806.65, 1e-6)
	if m.Rated == nil || *m.Rated || !m.RatingStated { // 10 psi < 10.4 psi
		t.Errorf("discharge = %+v", m)
	}
	if diff := cmp.Diff([]string{"relief_hole", "check_valve", "full_open_valve"}, m.Devices); diff != "" {
		t.Errorf("devices (-want +got):\n%s", diff)
	}
	if m.InOrder == nil || !*m.InOrder || m.ReceiverID != "c" || m.ReceiverKind != "building_drain" || m.ReceiverLie != "horizontal" || m.Entry != "top" || m.NoStack {
		t.Errorf("discharge = %+v", m)
	}
	want(t, "load of the receiver", m.TotalLoad, 10_000+*p.Rate*30)
	if a, b := at(t, f.Valves, "check"), at(t, f.Valves, "gate"); a.Order != 1 || b.Order != 2 || b.Style != "gate" {
		t.Errorf("valves = %+v, %+v", a, b)
	}
}

// Case basin-003 of the reference set: 24 in, 6 in drawn down, 20 gpm:
// 11.7504 gal and 25.5311 starts an hour at the worst inflow of 10 gpm.
func TestCycle(t *testing.T) {
	f := derive(t, `"fixtures": [{"id": "wc", "kind": "water_closet"}], "building": {"mean_inflow": "1 gpm"},
		"basins": [{"id": "s", "diameter": "24 in", "levels": {"stop": "6 in", "start": "12 in", "alarm": "15 in"}, "inlet": {"height": "18 in"}}],
		"pumps": [{"id": "p", "basin": "s", "stated_rate": "20 gpm"}], "connections": [{"id": "c", "kind": "building_drain"}],
		"pipes": [{"id": "a", "service": "drain", "from": "wc", "to": "s"}, {"id": "m", "service": "pumped", "from": "p", "to": "c", "devices": [{"id": "k", "kind": "check_valve"}]}]`)
	b, p := at(t, f.Basins, "s"), at(t, f.Pumps, "p")
	const gallon = 3785.411784
	near(t, "drawdown", b.Drawdown, 11.750373*gallon, 1e-4)
	near(t, "reserve", b.Reserve, 11.750373/2*gallon, 1e-4)
	near(t, "storage between start and inlet", b.StorageAbove, 11.750373*gallon, 1e-4) // 6 in again
	near(t, "reserve at 1 gpm", b.ReserveTime, 11.750373/2*60_000, 1e-4)
	near(t, "starts", p.Starts, 25_531.105, 1e-3)
	near(t, "run time", p.RunTime, 11.750373/20*60_000, 1e-3)
	near(t, "hold time", b.HoldTime, 11.750373*60_000, 1e-4)
	if p.RateBasis != "stated" {
		t.Errorf("basis %q", p.RateBasis)
	}
	want(t, "pump rate", b.PumpRate, 1262)
	want(t, "start below inlet", b.BelowInlet, 6*in)
}

func TestPumpThatCannotLift(t *testing.T) {
	// Case oppoint-016 of the reference set: 34 ft static over 32 ft shut-off.
	f := derive(t, `"fixtures": [{"id": "wc", "kind": "water_closet"}], "basins": [{"id": "s", "floor": "-34 ft", "levels": {"stop": "0 in"}}], "connections": [{"id": "c", "kind": "building_drain", "invert": "0 ft"}],
		"pumps": [{"id": "p", "basin": "s", "curve": [{"flow": "0 gpm", "head": "32 ft"}, {"flow": "25 gpm", "head": "29.5 ft"}, {"flow": "50 gpm", "head": "24 ft"}]}],
		"pipes": [{"id": "a", "service": "drain", "from": "wc", "to": "s"}, {"id": "m", "service": "pumped", "from": "p", "to": "c", "size": "2 in", "material": "pvc_sch40", "length": "20 ft"}]`)
	p := at(t, f.Pumps, "p")
	if p.CannotLift == nil || !*p.CannotLift {
		t.Errorf("pump = %+v", p)
	}
	absent(t, "rate", p.Rate)
	absent(t, "load below", at(t, f.Connections, "c").AddedLoad)
}

// Case manning-023 of the reference set: 4 in at 1/8 in/ft, n 0.010, 73.82 gpm
// of 115.309 gpm full: depth 0.58159, 3.0832 ft/s. The flow is a pumped one.
func TestDrainRunsPartlyFull(t *testing.T) {
	f := derive(t, `"fixtures": [{"id": "wc", "kind": "water_closet"}], "junctions": [{"id": "j"}], "basins": [{"id": "s"}], "pumps": [{"id": "p", "basin": "s", "stated_rate": "73.82 gpm"}], "connections": [{"id": "c", "kind": "building_drain"}],
		"pipes": [{"id": "a", "service": "drain", "from": "wc", "to": "s"}, {"id": "m", "service": "pumped", "from": "p", "to": "j"},
			{"id": "b", "service": "drain", "from": "j", "to": "c", "size": "4 in", "material": "pvc_sch40", "slope": "1/8 in/ft", "manning_n": {"expected": 0.010}}]`)
	b := at(t, f.Drains, "b")
	near(t, "bore", b.Bore, 4.026*in, 1e-6)
	near(t, "full", b.FullCapacity, 115.30891*63.0901964, 1e-3)
	near(t, "filling", b.Filling, 581_586.05, 1e-3)
	near(t, "velocity", b.Velocity, 3.0831839*304.8, 1e-3)
	if m := at(t, f.Discharges, "m"); !m.NoStack || m.FromStackBase != nil || m.ReceiverID != "j" {
		t.Errorf("discharge = %+v", m)
	}
}

// Case buoyancy-002 of the reference set: 30 x 48 in, 95 lb, slab 36 x 6 in,
// ground water at grade: factor 0.80647.
func TestFlotation(t *testing.T) {
	f := derive(t, `"basins": [{"id": "s", "outside_diameter": "30 in", "depth": "48 in", "floor": "-48 in", "grade": "0 in", "ground_water": "0 in", "weight": "95 lb",
		"anti_flotation_slab": {"diameter": "36 in", "thickness": "6 in", "density": "150 lb/ft3", "soil_saturated": "125 lb/ft3", "soil_moist": "105 lb/ft3"}}]`)
	near(t, "factor", at(t, f.Basins, "s").Flotation, 806.47, 1e-3)
}

// A basin whose plan is not stated cannot be weighed against the water; that is
// no contradiction, so that derive finds no problem.
func TestFlotationWithoutAPlan(t *testing.T) {
	for _, plan := range []string{``, `"shape": "rectangular", "plan_length": "30 in", `} {
		f := derive(t, `"basins": [{"id": "s", `+plan+`"depth": "48 in", "floor": "-48 in", "grade": "0 in", "ground_water": "0 in", "weight": "95 lb"}]`)
		absent(t, "factor", at(t, f.Basins, "s").Flotation)
	}
}

func TestDistanceToTheReceiver(t *testing.T) {
	f := derive(t, `"fixtures": [{"id": "f", "kind": "sink"}, {"id": "g", "kind": "sink"}, {"id": "h", "kind": "sink"}, {"id": "wc", "kind": "water_closet"}],
		"junctions": [{"id": "top"}, {"id": "base"}, {"id": "k"}, {"id": "r"}], "basins": [{"id": "s"}], "pumps": [{"id": "p", "basin": "s"}], "connections": [{"id": "c", "kind": "building_drain"}],
		"pipes": [{"id": "a", "service": "drain", "from": "f", "to": "top", "lie": "horizontal"}, {"id": "b", "service": "drain", "from": "g", "to": "top", "lie": "horizontal"},
			{"id": "st", "service": "drain", "from": "top", "to": "base", "lie": "vertical"}, {"id": "d1", "service": "drain", "from": "base", "to": "k", "length": "6 ft", "lie": "horizontal"},
			{"id": "e", "service": "drain", "from": "h", "to": "k", "lie": "horizontal"}, {"id": "d2", "service": "drain", "from": "k", "to": "r", "length": "5 ft", "lie": "horizontal", "size": "4 in"},
			{"id": "d3", "service": "drain", "from": "r", "to": "c", "lie": "horizontal", "size": "4 in"}, {"id": "i", "service": "drain", "from": "wc", "to": "s"}, {"id": "m", "service": "pumped", "from": "p", "to": "r"}]`)
	m := at(t, f.Discharges, "m")
	want(t, "from the stack base", m.FromStackBase, 11*12*in)
	want(t, "from the fixture drain", m.FromFixture, 5*12*in)
	want(t, "receiver", m.ReceiverDN, 100)
	if m.NoStack || m.ReceiverKind != "building_drain" {
		t.Errorf("discharge = %+v", m)
	}
	absent(t, "load with a pump of unknown rate", m.TotalLoad)
}

// Half full at 1 in 100, a bore of 96 mm and a roughness of 1 mm carry 2.5 L/s
// (EN 12056-2 Annex B, DN 100, from memory). Polypropylene DN 100 has a bore
// near 104 mm: the formula's flow grows with about the 2.65th power of it.
func TestEuropeanDrain(t *testing.T) {
	f, _ := deriveWith(t, read(t, `"fixtures": [{"id": "f", "kind": "other", "load": "25 L/s"}], "connections": [{"id": "c", "kind": "building_drain"}],
		"pipes": [{"id": "b", "service": "drain", "from": "f", "to": "c", "size": "DN 100", "material": "pp_en", "slope": "1 %"}]`), tables{units: true, metric: true})
	b := at(t, f.Drains, "b")
	want(t, "design flow", b.DesignFlow, 2500)
	bore := float64(*b.Bore) / 1e6
	half := 2.5 * math.Pow(bore/0.096, 2.65)
	// The full pipe carries twice what the half full one does.
	near(t, "full capacity", b.FullCapacity, 2*half*1000, 0.02)
	if *b.Filling >= 500_000 || *b.Filling < 400_000 {
		t.Errorf("filling = %d at %g mm, want a little under half", *b.Filling, bore*1000)
	}
}

// A second pump starts at 15 in: 3 in of a 24 in basin are left below the
// inlet, half of case basin-003. A flush of 1.6 gal is 6.0567 L.
func TestStorageAboveTheSecondStart(t *testing.T) {
	f := derive(t, `"fixtures": [{"id": "wc", "kind": "water_closet", "flush_volume": "1.6 gal"}],
		"basins": [{"id": "s", "diameter": "24 in", "levels": {"stop": "6 in", "start": "12 in", "second_start": "15 in"}, "inlet": {"height": "18 in"}}],
		"pipes": [{"id": "a", "service": "drain", "from": "wc", "to": "s"}]`)
	b := at(t, f.Basins, "s")
	near(t, "storage", b.StorageAbove, 11.750373/2*3785.411784, 1e-4)
	absent(t, "time to fill a reserve without an alarm", b.ReserveTime)
	want(t, "flush", at(t, f.Fixtures, "wc").Flush, 6057)
}
