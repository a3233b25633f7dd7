package drawing

import (
	"fmt"

	"backpitch/engine/quantity"
)

// demoRiser is the drainage of the pottery studio under a row house.
func demoRiser() RiserData {
	d := RiserData{Frame: Frame{Prefix: "riser-", Title: "Riser diagram of the pottery studio", Units: quantity.US, Marks: map[string][]Mark{
		"main-1":      {{Text: "1", Href: "#finding-1", Name: "finding 1"}},
		"floor-drain": {{Text: "2", Href: "#finding-2", Name: "finding 2"}},
		"check":       {{Text: "3", Href: "#finding-3", Name: "finding 3"}},
		"vent-basin":  {{Text: "5", Href: "#finding-5", Name: "finding 5"}, {Text: "6", Href: "#finding-6"}},
		"basin":       {{Text: "7", Href: "#finding-7"}}, "house-drain": {{Text: "8", Href: "#finding-8"}},
		"vj-sink": {{Text: "9", Href: "#finding-9"}}, "roof-vent": {{Text: "10", Href: "#finding-10"}},
		"j-main-sink": {{Text: "11", Href: "#finding-11"}}}}}
	fixture := func(id, kind, trap string) {
		d.Nodes = append(d.Nodes, Node{ID: id, Kind: Fixture, Fixture: kind, Trap: trap})
	}
	fixture("lavatory", "lavatory", "1-1/4 in")
	fixture("shower", "shower", "2 in")
	fixture("closet", "water_closet", "")
	fixture("clay-sink", "sink", "2 in")
	fixture("floor-drain", "floor_drain", "2 in")
	for _, j := range [][2]string{{"j-lavatory"}, {"j-foot"}, {"j-shower", "wet-1"}, {"j-closet", "wet-2"}, {"j-sink"}, {"j-sink-foot"},
		{"j-main-sink", "main-1"}, {"j-drain"}, {"j-main-drain", "main-2"}, {"vj-sink"}, {"vj-drain"}} {
		d.Nodes = append(d.Nodes, Node{ID: j[0], Kind: Junction, Run: j[1]})
	}
	d.Nodes = append(d.Nodes,
		Node{ID: "roof-vent", Kind: RoofVent}, Node{ID: "basin-roof-vent", Kind: RoofVent},
		Node{ID: "basin", Kind: Basin, Notes: []string{"inlet inv. -10 ft"}},
		Node{ID: "pump", Kind: Pump, In: "basin"},
		Node{ID: "house-drain", Kind: Connection, Label: "building drain 4 in", Notes: []string{"1/8 in/ft, inv. -2 ft 6 in"}})
	pipe := func(id string, s Service, from, to, size, slope string, dev ...Device) {
		p := Pipe{ID: id, Service: s, From: from, To: to, Size: size, Slope: slope, Lie: true, Vertical: slope == "", Devices: dev}
		d.Pipes = append(d.Pipes, p)
	}
	const q = "1/4 in/ft"
	co := func(id string) Device { return Device{ID: id, Kind: "cleanout"} }
	pipe("lav-arm", Drain, "lavatory", "j-lavatory", "1-1/2 in", q)
	pipe("lav-drop", Drain, "j-lavatory", "j-foot", "2 in", "")
	pipe("wet-1", Drain, "j-foot", "j-shower", "2 in", q, co("co-washroom"))
	pipe("shower-arm", Drain, "shower", "j-shower", "2 in", q)
	pipe("wet-2", Drain, "j-shower", "j-closet", "2 in", q)
	pipe("closet-arm", Drain, "closet", "j-closet", "3 in", q)
	pipe("main-1", Drain, "j-closet", "j-main-sink", "3 in", q, co("co-main"))
	pipe("sink-arm", Drain, "clay-sink", "j-sink", "2 in", q)
	pipe("sink-drop", Drain, "j-sink", "j-sink-foot", "2 in", "")
	pipe("sink-run", Drain, "j-sink-foot", "j-main-sink", "2 in", q, co("co-sink"))
	pipe("main-2", Drain, "j-main-sink", "j-main-drain", "3 in", q)
	pipe("floor-drain-arm", Drain, "floor-drain", "j-drain", "2 in", q)
	pipe("floor-drain-run", Drain, "j-drain", "j-main-drain", "2 in", q)
	pipe("main-3", Drain, "j-main-drain", "basin", "3 in", q)
	pipe("vent-lavatory", Vent, "j-lavatory", "vj-sink", "2 in", "")
	pipe("vent-sink", Vent, "j-sink", "vj-sink", "2 in", "")
	pipe("vent-floor-drain", Vent, "j-drain", "vj-drain", "2 in", "")
	pipe("vent-collect", Vent, "vj-sink", "vj-drain", "2 in", "1/8 in/ft")
	pipe("vent-roof", Vent, "vj-drain", "roof-vent", "2 in", "")
	pipe("vent-basin", Vent, "basin", "basin-roof-vent", "2 in", "")
	pipe("discharge", Pumped, "pump", "house-drain", "2 in", "22 ft", Device{ID: "relief-hole", Kind: "relief_hole"},
		Device{ID: "check", Kind: "check_valve"}, Device{ID: "union", Kind: "union"}, Device{ID: "shutoff", Kind: "full_open_valve"})
	return d
}

// builder grows a building for the layout tests.
type builder struct {
	RiserData
	n int
}

func (b *builder) node(kind NodeKind, id string) string {
	b.Nodes = append(b.Nodes, Node{ID: id, Kind: kind})
	return id
}

func (b *builder) pipe(s Service, from, to, size string, upright bool, dev ...Device) {
	b.n++
	slope := "1/4 in/ft"
	if upright {
		slope = ""
	}
	p := Pipe{ID: fmt.Sprintf("%s-%d", s, b.n), Service: s, From: from, To: to, Size: size, Slope: slope, Lie: true, Vertical: upright, Devices: dev}
	if b.n%7 == 0 {
		b.Marks[p.ID] = []Mark{{Text: fmt.Sprint(b.n), Href: fmt.Sprintf("#finding-%d", b.n)}}
	}
	if b.n%21 == 0 {
		b.Marks[p.ID] = append(b.Marks[p.ID], Mark{Text: fmt.Sprint(b.n + 1)}, Mark{Text: "9"})
	}
	b.Pipes = append(b.Pipes, p)
}

// building has stacks with storeys of fixtures: every fixture of a storey
// drains to a branch and is vented to a branch vent, which joins a vent stack
// beside each drainage stack. The stacks stand on a building drain.
func building(stacks, storeys, fixtures int) RiserData {
	kinds := []string{"water_closet", "lavatory", "shower", "kitchen_sink", "bathtub", "urinal"}
	b := &builder{RiserData: RiserData{Frame: Frame{Prefix: "b-", Marks: map[string][]Mark{}}}}
	b.node(Connection, "sewer")
	main := "sewer"
	for s := range stacks {
		foot := b.node(Junction, fmt.Sprintf("foot%d", s))
		b.pipe(Drain, foot, main, "6 in", false, Device{ID: fmt.Sprintf("co-main%d", s), Kind: "cleanout"})
		b.stack(s, foot, storeys, fixtures, kinds)
		main = foot
	}
	return b.RiserData
}

func (b *builder) stack(s int, below string, storeys, fixtures int, kinds []string) {
	ventBelow := ""
	for f := range storeys {
		tee := b.node(Junction, fmt.Sprintf("s%d-%d", s, f))
		var dev []Device
		if f == 0 {
			dev = []Device{{ID: fmt.Sprintf("co-s%d", s), Kind: "cleanout"}}
		}
		b.pipe(Drain, tee, below, "4 in", true, dev...)
		below = tee
		header := b.branch(s, f, tee, fixtures, kinds)
		joint := b.node(Junction, fmt.Sprintf("vs%d-%d", s, f))
		b.pipe(Vent, header, joint, "2 in", false)
		if ventBelow != "" {
			b.pipe(Vent, ventBelow, joint, "3 in", true)
		}
		ventBelow = joint
	}
	top := b.node(Junction, fmt.Sprintf("vtop%d", s))
	b.pipe(Vent, ventBelow, top, "3 in", true)
	b.pipe(Vent, below, top, "4 in", true)
	b.pipe(Vent, top, b.node(RoofVent, fmt.Sprintf("roof%d", s)), "4 in", true)
}

// branch is one storey at one stack; it returns the end of its branch vent.
func (b *builder) branch(s, f int, tee string, fixtures int, kinds []string) string {
	at, header := tee, ""
	for k := range fixtures {
		kind := kinds[(k+s+f)%len(kinds)]
		id := fmt.Sprintf("%d.%d.%d", s, f, k)
		storey := f
		b.Nodes = append(b.Nodes, Node{ID: "fx" + id, Kind: Fixture, Fixture: kind, Label: deviceName(kind), Trap: "2 in", Storey: &storey})
		if k%5 == 1 {
			b.Marks["fx"+id] = []Mark{{Text: "5"}, {Text: "6"}}
		}
		vented := b.node(Junction, "v"+id)
		joint := b.node(Junction, "j"+id)
		b.pipe(Drain, joint, at, "3 in", false)
		b.pipe(Drain, vented, joint, "2 in", true)
		b.pipe(Drain, "fx"+id, vented, "2 in", false)
		at = joint
		end := b.node(Junction, "h"+id)
		b.pipe(Vent, vented, end, "1-1/2 in", true)
		if header != "" {
			b.pipe(Vent, header, end, "2 in", false)
		}
		header = end
	}
	return header
}
