package facts

import (
	"math"
	"strings"
	"testing"

	"backpitch/engine/design"
)

const (
	gpm    = 63.0901964 // mL/s
	gallon = 3785.411784
)

// The ends of the pump's rate, with numbers from outside: the head that pump
// and line have at the printed rate is worked out by the US form of
// Hazen-Williams (10.4621 L Q^1.852 / (C^1.852 d^4.871), EPANET source code).
func TestRateRange(t *testing.T) {
	f := derive(t, strings.Replace(lift, `"curve":`, `"curve_tolerance_percent": 5, "curve":`, 1))
	p := at(t, f.Pumps, "p")
	for _, c := range []struct {
		what string
		rate *int64
		c    float64
		part float64 // of the pump's head
	}{{"low", p.RateLow, 120, 0.95}, {"expected", p.Rate, 150, 1}, {"high", p.RateHigh, 150, 1.05}} {
		if c.rate == nil {
			t.Fatalf("no %s rate", c.what)
		}
		q := float64(*c.rate) / gpm
		pump := c.part * (20 - (q-30)*9/30) // between 30 and 60 gpm
		v := 0.408498 * q / (2.067 * 2.067)
		line := 8 + 10.4621*40*math.Pow(q, 1.852)/(math.Pow(c.c, 1.852)*math.Pow(2.067, 4.871)) + 6.3*v*v/(2*32.174)
		if math.Abs(pump-line) > 0.01 {
			t.Errorf("%s: at %.2f gpm the pump gives %.3f ft, the line asks %.3f ft", c.what, q, pump, line)
		}
	}
	m := at(t, f.Discharges, "m")
	if !(*p.RateLow < *p.Rate && *p.Rate < *p.RateHigh && *m.VelocityLow < *m.Velocity && *m.Velocity < *m.VelocityHigh) {
		t.Errorf("pump %d %d %d, velocity %d %d %d", *p.RateLow, *p.Rate, *p.RateHigh, *m.VelocityLow, *m.Velocity, *m.VelocityHigh)
	}
	if !(*m.TotalLoadLow < *m.TotalLoad && *m.TotalLoad < *m.TotalLoadHigh) {
		t.Errorf("load %d %d %d", *m.TotalLoadLow, *m.TotalLoad, *m.TotalLoadHigh)
	}
	if !(*p.RunTimeLow < *p.RunTime && *p.RunTime < *p.RunTimeHigh && *p.StartsLow < *p.Starts && *p.Starts < *p.StartsHigh) {
		t.Errorf("cycle %+v", p)
	}
}

// A line of stated and exact friction, and a pump of no tolerance, give one number.
func TestExactInputsHaveNoRange(t *testing.T) {
	f := derive(t, strings.Replace(lift, `{"low": 120, "expected": 150}`, `{"expected": 150}`, 1))
	p := at(t, f.Pumps, "p")
	want(t, "low", p.RateLow, *p.Rate)
	want(t, "high", p.RateHigh, *p.Rate)
}

// At 95 % of its head the pump stays below the static head: it lifts as
// expected and not at its low end.
func TestMayNotLift(t *testing.T) {
	f := derive(t, strings.NewReplacer(`"floor": "-9 ft"`, `"floor": "-24.8 ft"`, `"curve":`, `"curve_tolerance_percent": 5, "curve":`).Replace(lift))
	p := at(t, f.Pumps, "p") // static 23.8 ft, shut-off 24 ft
	if *p.CannotLift || !*p.MayNotLift {
		t.Errorf("cannot %v, may not %v", *p.CannotLift, *p.MayNotLift)
	}
	want(t, "rate at the low end", p.RateLow, 0)
	absent(t, "run time of a pump that may not lift", p.RunTime)
}

// Case oppoint-2pumps-003 of the reference set: two pumps with 6 ft of 2 in
// pipe and K 3 each on 60 ft of 3 in pipe with K 4.5, 12 ft static, C 150:
// 112.593 gpm together. Its exit is in the K there, so the line states 3.5.
func TestTwoPumpsOnOneLine(t *testing.T) {
	const curve = `"curve": [{"flow": "0 gpm", "head": "28 ft"}, {"flow": "15 gpm", "head": "27 ft"}, {"flow": "35 gpm", "head": "23.5 ft"}, {"flow": "55 gpm", "head": "17.5 ft"}, {"flow": "75 gpm", "head": "8 ft"}]`
	body := func(duty string) string {
		return `"fixtures": [{"id": "wc", "kind": "water_closet"}], "junctions": [{"id": "y"}, {"id": "j"}],
		"basins": [{"id": "s", "floor": "-13 ft", "levels": {"stop": "12 in"}}], "connections": [{"id": "c", "kind": "building_drain", "size": "4 in", "existing_load": "0 dfu"}],
		"pumps": [{"id": "p1", "basin": "s", ` + curve + `}, {"id": "p2", "basin": "s", "duty": "` + duty + `", ` + curve + `}],
		"pipes": [{"id": "a", "service": "drain", "from": "wc", "to": "s"},
			{"id": "b1", "service": "pumped", "from": "p1", "to": "y", "size": "2 in", "material": "pvc_sch40", "length": "6 ft", "hazen_williams_c": {"expected": 150}, "devices": [{"id": "k1", "kind": "check_valve", "k": 3}]},
			{"id": "b2", "service": "pumped", "from": "p2", "to": "y", "size": "2 in", "material": "pvc_sch40", "length": "6 ft", "hazen_williams_c": {"expected": 150}, "devices": [{"id": "k2", "kind": "check_valve", "k": 3}]},
			{"id": "m", "service": "pumped", "from": "y", "to": "j", "size": "3 in", "material": "pvc_sch40", "length": "60 ft", "hazen_williams_c": {"expected": 150}, "invert_to": "0 ft", "devices": [{"id": "v", "kind": "full_open_valve", "k": 3.5}]},
			{"id": "d", "service": "drain", "from": "j", "to": "c", "size": "4 in", "material": "pvc_dwv", "slope": "1/8 in/ft"}]`
	}
	f := derive(t, body("duty"))
	b := at(t, f.Basins, "s")
	near(t, "together", b.TotalRate, 112.593*gpm, 0.001)
	if alone := at(t, f.Pumps, "p1"); *alone.Rate >= *b.TotalRate || 2**alone.Rate <= *b.TotalRate {
		t.Errorf("alone %d, together %d", *alone.Rate, *b.TotalRate)
	}
	near(t, "what the drain takes", at(t, f.Drains, "d").PumpedFlow, 112.593*gpm, 0.001)
	near(t, "load of both", at(t, f.Connections, "c").AddedLoad, 112.593*gpm*30, 0.001)
	// A standby pump runs in place of the other: the drain takes one.
	f = derive(t, body("standby"))
	want(t, "what the drain takes of one", at(t, f.Drains, "d").PumpedFlow, *at(t, f.Pumps, "p1").Rate)
	near(t, "both, should both run", at(t, f.Basins, "s").TotalRate, 112.593*gpm, 0.001)
}

// Peak inflow 0.1 L/s a unit by the made-up profile: six closets are 24 units,
// 2.4 L/s, 1.138 L/s over 20 gpm. From 12 in to 18 in of a 24 in basin are
// 11.7504 gal (case basin-003 of the reference set), full in 39.08 s.
func TestPeakBeyondOnePump(t *testing.T) {
	body := func(n int) string {
		fixtures, pipes := "", ""
		for i := range n {
			id := string(rune('a' + i))
			fixtures += `{"id": "` + id + `", "kind": "water_closet"},`
			pipes += `{"id": "p` + id + `", "service": "drain", "from": "` + id + `", "to": "s", "size": "3 in", "invert_to": "-2 ft"},`
		}
		return `"fixtures": [` + strings.TrimSuffix(fixtures, ",") + `], "building": {"mean_inflow": "1 gpm"},
		"basins": [{"id": "s", "floor": "-4 ft", "diameter": "24 in", "levels": {"stop": "6 in", "start": "12 in", "alarm": "15 in"}, "inlet": {"height": "18 in"}}],
		"pumps": [{"id": "pump", "basin": "s", "stated_rate": "20 gpm"}], "connections": [{"id": "out", "kind": "building_drain"}],
		"pipes": [` + pipes + `{"id": "m", "service": "pumped", "from": "pump", "to": "out", "size": "2 in", "material": "pvc_sch40", "length": "20 ft", "devices": [{"id": "k", "kind": "check_valve", "at": "5 ft"}]}]`
	}
	f := derive(t, body(6))
	b := at(t, f.Basins, "s")
	if b.KeepsUp == nil || *b.KeepsUp {
		t.Errorf("keeps up: %v", b.KeepsUp)
	}
	want(t, "excess", b.Excess, 2400-1262)
	near(t, "time to the inlet", b.TimeToInlet, 11.750373*gallon/(2400-1262)*1000, 1e-3)
	near(t, "power failure", b.OutageTime, 11.750373*60_000, 1e-4)
	want(t, "above the inlet", at(t, f.Drains, "pa").AboveInlet, 6*in) // -2 ft over -4 ft + 18 in
	m := at(t, f.Discharges, "m")
	near(t, "5 ft of 2 in pipe run back", m.DrainBack, 0.1743*5*gallon, 2e-3) // 17.43 gal/100 ft, table A4 of the reference notes
	near(t, "15 ft are held", m.HeldVolume, 0.1743*15*gallon, 2e-3)
	f = derive(t, body(1))
	b = at(t, f.Basins, "s")
	if !*b.KeepsUp || *b.Excess != 0 {
		t.Errorf("basin = %+v", b)
	}
	absent(t, "time to the inlet", b.TimeToInlet)
}

// Without a check valve the whole line runs back.
func TestWholeLineRunsBackWithoutCheckValve(t *testing.T) {
	f := derive(t, strings.Replace(lift, `{"id": "check", "kind": "check_valve", "k": 3.3, "accessible": true}, `, "", 1))
	m := at(t, f.Discharges, "m")
	near(t, "40 ft run back", m.DrainBack, 0.1743*40*gallon, 2e-3)
	want(t, "held", m.HeldVolume, 0)
}

// Case buoyancy-002 of the reference set gives 0.80647 of the uplift; the
// profile asks 1.2. Uplift by hand: 62.4 lb/ft3 of 30 in x 48 in and the slab
// 36 in x 6 in are 1445.7 lb (19.635 + 3.534 ft3), so 569 lb are missing.
func TestBallast(t *testing.T) {
	f := derive(t, `"basins": [{"id": "s", "outside_diameter": "30 in", "depth": "48 in", "floor": "-48 in", "grade": "0 in", "ground_water": "0 in", "weight": "95 lb",
		"anti_flotation_slab": {"diameter": "36 in", "thickness": "6 in", "density": "150 lb/ft3", "soil_saturated": "125 lb/ft3", "soil_moist": "105 lb/ft3"}}]`)
	b := at(t, f.Basins, "s")
	near(t, "weight", b.BallastNeeded, (1.2-0.80647)*1445.74*453.59237, 2e-3)
	near(t, "concrete", b.ConcreteNeeded, (1.2-0.80647)*1445.74/(150-1.2*62.4)*28316.8, 2e-3) // mL in a ft3
}

// Case headloss-dw-004 of the reference set is 2.66432 ft for 40 gpm in 100 ft
// of 2 in pipe, e 5e-6 ft, exact Colebrook. The same pipe on a pump whose head
// at 40 gpm is static + that loss + the outlet's velocity head runs at 40 gpm.
func TestDarcyWeisbachByName(t *testing.T) {
	const head = 10 + 2.66432 + 0.2273 // V 3.8244 ft/s at 40 gpm: V2/2g 0.2273 ft
	body := strings.NewReplacer(`"kind": "solids_handling", "curve": [{"flow": "0 gpm", "head": "24 ft"}, {"flow": "30 gpm", "head": "20 ft"}, {"flow": "60 gpm", "head": "11 ft"}]`,
		`"friction_method": "darcy_weisbach", "curve": [{"flow": "0 gpm", "head": "20 ft"}, {"flow": "40 gpm", "head": "12.8916 ft"}, {"flow": "60 gpm", "head": "5 ft"}]`,
		`"floor": "-9 ft"`, `"floor": "-11 ft"`, `"length": "40 ft"`, `"length": "100 ft"`, `, "k": 3.3`, `, "k": 0`, `"style": "gate", "k": 2`, `"k": 0`).Replace(lift)
	f := derive(t, body)
	p := at(t, f.Pumps, "p")
	if p.Friction != "darcy_weisbach" {
		t.Errorf("method %q", p.Friction)
	}
	near(t, "rate", p.Rate, 40*gpm, 0.01) // the expected roughness of plastic, 1e-5 m, is six times that of the case
	near(t, "rate of smooth pipe", p.RateHigh, 40*gpm, 0.003)
	near(t, "head", p.Head, head*12*in, 0.01)
}

// A rough drain is fuller and slower: case manning-005 and -006 of the
// reference set are the same 3 in pipe at 1/8 in/ft with n 0.011 and 0.013;
// capacity goes as 1/n, 50.79 gpm and 42.97 gpm.
func TestDrainRange(t *testing.T) {
	f := derive(t, `"fixtures": [{"id": "wc", "kind": "water_closet"}], "connections": [{"id": "c", "kind": "building_drain"}],
		"pipes": [{"id": "b", "service": "drain", "from": "wc", "to": "c", "size": "3 in", "material": "pvc_sch40", "slope": "1/8 in/ft", "manning_n": {"low": 0.009, "expected": 0.011, "high": 0.013}}]`)
	b := at(t, f.Drains, "b")
	near(t, "full, n 0.011", b.FullCapacity, 50.79*gpm, 1e-3)
	near(t, "full, n 0.013", b.FullLow, 42.97*gpm, 1e-3)
	near(t, "full, n 0.009", b.FullHigh, 62.07*gpm, 1e-3) // case manning-008
	if !(*b.FillingLow < *b.Filling && *b.Filling < *b.FillingHigh && *b.VelocityLow < *b.Velocity && *b.Velocity < *b.VelocityHigh) {
		t.Errorf("drain = %+v", b)
	}
}

// A curve that cannot be one is a problem with its numbers, not silence.
func TestImpossibleCurveIsAProblem(t *testing.T) {
	d := read(t, strings.Replace(lift, `"head": "20 ft"`, `"head": "25 ft"`, 1))
	_, problems := deriveWith(t, d, tables{})
	if len(problems) != 1 || problems[0].Code != "not_computed" || !strings.Contains(problems[0].Message, `pump "p"`) || problems[0].Place.Line == 0 {
		t.Errorf("problems = %+v", problems)
	}
}

// More length never raises the flow, at any end.
func TestLengthNeverRaisesFlow(t *testing.T) {
	var last [3]int64
	for i, feet := range []string{"5 ft", "40 ft", "120 ft", "400 ft", "1500 ft"} {
		p := at(t, derive(t, strings.Replace(lift, `"length": "40 ft"`, `"length": "`+feet+`"`, 1)).Pumps, "p")
		now := [3]int64{*p.RateLow, *p.Rate, *p.RateHigh}
		for end := range now {
			if i > 0 && now[end] > last[end] {
				t.Errorf("%s: end %d rose from %d to %d", feet, end, last[end], now[end])
			}
		}
		last = now
	}
}

// A stated range is put in order, and a missing end is the expected value.
func TestStatedRange(t *testing.T) {
	number := func(x float64) *float64 { return &x }
	for _, c := range []struct {
		in             design.Range
		low, mid, high float64
		known          bool
	}{
		{design.Range{Expected: number(140)}, 140, 140, 140, true},
		{design.Range{Low: number(120), Expected: number(140), High: number(150)}, 120, 140, 150, true},
		{design.Range{Low: number(120), High: number(150)}, 120, 135, 150, true},
		{design.Range{Low: number(160), Expected: number(140)}, 140, 140, 140, true},
		{design.Range{Low: number(120)}, 0, 0, 0, false},
	} {
		r, ok := stated(&c.in)
		if ok != c.known || r.Low != c.low || r.Expected != c.mid || r.High != c.high {
			t.Errorf("%+v gives %+v %v", c.in, r, ok)
		}
	}
}
