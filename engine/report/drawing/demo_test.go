package drawing

import "backpitch/engine/quantity"

// in and gpm write the fixed units of the demo data: 1 in is 25 400 µm, 1 gpm
// 63.09 mL/s (NIST SP 811).
func in(x float64) int64  { return int64(x*25400 + 0.5) }
func gpm(x float64) int64 { return int64(x*63.0901964 + 0.5) }
func ptr(x int64) *int64  { return &x }

// system samples static head plus a loss that grows with the square of flow.
func system(static, lossAt20 float64) []Point {
	var out []Point
	for q := 0.0; q <= 70; q += 2 {
		out = append(out, Point{gpm(q), in(12 * (static + lossAt20*(q/20)*(q/20)))})
	}
	return out
}

// demoPump is the pump of the pottery studio under a row house.
func demoPump() PumpData {
	return PumpData{
		Frame: Frame{Prefix: "pump-", Units: quantity.US, Marks: map[string][]Mark{
			"op": {{Text: "4", Href: "#finding-4", Name: "finding 4: pump velocity"}}}},
		ID: "pump", Name: `pump "pump"`,
		Points:    []Point{{0, in(216)}, {gpm(20), in(186)}, {gpm(40), in(138)}, {gpm(60), in(66)}},
		Model:     "segments",
		Tolerance: 5,
		Low:       system(9.7, 0.9), Expected: system(9.7, 1.2), High: system(9.7, 1.7),
		Static:    ptr(in(9.7 * 12)),
		Operating: []Operating{{ID: "op", Name: "operating point", Meeting: Met, At: Point{gpm(33.7), in(12 * 12.9)}}},
		LeastFlow: ptr(gpm(21)), LeastName: "least rate for a 2 in discharge",
	}
}

// weakPump cannot lift: its shut-off head is under the static head.
func weakPump() PumpData {
	d := demoPump()
	d.Static, d.Low, d.Expected, d.High = ptr(in(20*12)), system(20, 0.9), system(20, 1.2), system(20, 1.7)
	d.Operating = []Operating{{ID: "op", Name: "operating point", Meeting: NeverMeet}}
	d.Marks = map[string][]Mark{"op": {{Text: "1", Href: "#finding-1"}, {Text: "12", Href: "#finding-12"}}}
	return d
}

// strongPump meets the system beyond its last stated point.
func strongPump() PumpData {
	d := demoPump()
	d.Units = quantity.SI
	d.Low, d.Expected, d.High = system(2, 0.05), system(2, 0.1), system(2, 0.2)
	d.Static = ptr(in(24))
	d.Operating = []Operating{{Name: "operating point", Meeting: BeyondLast, At: Point{gpm(60), in(66)}}}
	return d
}

// twinPumps run in parallel on a three-point curve.
func twinPumps() PumpData {
	d := demoPump()
	d.Model, d.Tolerance = "three_point", 0
	d.Points = []Point{{0, in(288)}, {gpm(30), in(240)}, {gpm(60), in(132)}}
	d.Pumps = 2
	d.Operating = []Operating{
		{ID: "op", Name: "one pump", Meeting: Met, At: Point{gpm(46.6), in(192.5)}},
		{Name: "both pumps", Meeting: Met, At: Point{gpm(61.5), in(237)}}}
	return d
}

// demoBasin is the basin of the pottery studio: 30 in by 42 in.
func demoBasin() BasinData {
	vol := func(inches float64) *int64 { return ptr(int64(706.858 * inches * 16.387064)) } // 30 in round: 706.858 in2
	return BasinData{
		Frame: Frame{Prefix: "basin-", Units: quantity.US, Marks: map[string][]Mark{
			"check": {{Text: "3", Href: "#finding-3", Name: "finding 3"}}, "basin": {{Text: "5", Href: "#finding-5"}},
			"main-3": {{Text: "7", Href: "#finding-7"}}}},
		ID: "basin", Name: `basin "basin"`, Round: true,
		Width: ptr(in(30)), Depth: ptr(in(42)), Outside: ptr(in(31)), Elevation: ptr(-in(150)),
		Cover: "gas-tight, fastened",
		Inlet: &Inlet{ID: "main-3", Name: "inlet 3 in", Height: in(30), Diameter: in(3)},
		Levels: []Level{{Kind: Stop, Height: in(8)}, {Kind: Start, Height: in(18), Volume: vol(10)},
			{Kind: Alarm, Height: in(22), Volume: vol(4)}},
		GroundWater: ptr(in(30)), Grade: ptr(in(42)),
		Slab:  &Slab{Width: in(48), Thickness: in(8)},
		Pumps: []string{"pump, solids-handling"}, PumpID: "pump",
		Vent: &Stub{ID: "vent-basin", Name: "vent 2 in to open air"},
		Discharge: &Stub{ID: "discharge", Name: "discharge 2 in to the building drain", Devices: []Device{
			{ID: "relief-hole", Kind: "relief_hole", Inside: true, Detail: "3/16 in"},
			{ID: "check", Kind: "check_valve", Detail: "swing, above the cover"},
			{ID: "union", Kind: "union", Detail: "above the cover"},
			{ID: "shutoff", Kind: "full_open_valve", Detail: "ball, above the cover"}}},
		Notes: []string{"Bedding: 6 in of crushed stone."},
	}
}

// poorBasin states little and badly: two starts an inch apart, an alarm above
// the inlet, two pumps, SI.
func poorBasin() BasinData {
	d := demoBasin()
	d.Units, d.Slab, d.Depth, d.Outside = quantity.SI, nil, ptr(in(96)), nil
	d.Levels = []Level{{Kind: Stop, Height: in(8)}, {Kind: Start, Height: in(11), Volume: ptr(34000)},
		{Kind: SecondStart, Height: in(12), Volume: ptr(12000)}, {ID: "basin-alarm", Kind: Alarm, Height: in(34), Volume: ptr(250000)}}
	d.Pumps = []string{"pump-1", "pump-2"}
	d.GroundWater = ptr(in(110))
	d.Marks["basin"] = []Mark{{Text: "1"}, {Text: "2"}, {Text: "3"}}
	d.Marks["basin-alarm"] = []Mark{{Text: "14", Href: "#finding-14"}}
	d.Discharge.Devices = append(d.Discharge.Devices, Device{ID: "co", Kind: "cleanout"}, Device{Kind: "backwater_valve"}, Device{Kind: "odd_thing"})
	return d
}

// demoPumped is the pumped side of the pottery studio.
func demoPumped() PumpedData {
	return PumpedData{
		Frame: Frame{Prefix: "line-", Marks: map[string][]Mark{"check": {{Text: "3", Href: "#finding-3", Name: "finding 3"}},
			"discharge": {{Text: "9", Href: "#finding-9"}}}},
		ID: "discharge", Pump: `pump "pump", solids-handling`, PumpID: "pump", Size: "2 in", Length: "22 ft",
		To: `building drain "house-drain", 4 in, wye, entry from the top`, ToID: "house-drain",
		Devices: []Device{
			{ID: "relief-hole", Kind: "relief_hole", Inside: true, At: "6 in", Detail: "3/16 in, inside the basin"},
			{ID: "check", Kind: "check_valve", At: "4 ft", Detail: "swing, above the cover, accessible"},
			{ID: "union", Kind: "union", At: "4 ft 4 in", Detail: "above the cover, accessible"},
			{ID: "shutoff", Kind: "full_open_valve", At: "4 ft 8 in", Detail: "ball, above the cover, accessible"}},
	}
}
