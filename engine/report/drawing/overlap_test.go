package drawing

import (
	"fmt"
	"math/rand"
	"strings"
	"testing"
)

// thing is a text, a mark or the body of a symbol with the room it takes.
type thing struct {
	box
	what    string
	element int
	symbol  bool
}

func (x thing) id(s *sheet) string { return s.elements[x.element].id }

// things collects everything of a sheet that must keep apart. Texts inside a
// symbol belong to it, if they fit.
func things(t *testing.T, s *sheet) []thing {
	t.Helper()
	var out []thing
	for i, e := range s.elements {
		body, ok := e.symbolBox()
		if ok {
			out = append(out, thing{body, "symbol of " + e.id + " " + e.title, i, true})
		}
		for _, sh := range e.shapes {
			switch {
			case sh.kind == marking:
				out = append(out, thing{sh.bounds(), "mark " + sh.mark.Text + " at " + e.id, i, false})
			case sh.kind != label:
			case sh.inner:
				if b := sh.bounds(); b.x0 < body.x0-1 || b.x1 > body.x1+1 || b.y0 < body.y0 || b.y1 > body.y1 {
					t.Errorf("%q does not fit its symbol: %v in %v", sh.text, b, body)
				}
			default:
				out = append(out, thing{sh.bounds(), fmt.Sprintf("%q of %s", sh.text, e.id), i, false})
			}
		}
	}
	return out
}

// apart fails where two things overlap, a pipe runs through a text, or a pipe
// runs through the symbol of an element it has nothing to do with.
func apart(t *testing.T, name string, s *sheet) {
	t.Helper()
	list := things(t, s)
	const hair = 0.05
	for i, a := range list {
		for _, b := range list[i+1:] {
			if a.symbol && b.symbol && s.elements[b.element].ends[1] == s.elements[a.element].id && a.id(s) != "" {
				continue // a pump stands in its basin
			}
			if a.box.grown(-hair).meets(b.box.grown(-hair)) {
				t.Errorf("%s: %s overlaps %s: %v %v", name, a.what, b.what, a.box, b.box)
			}
		}
	}
	for i, e := range s.elements {
		for _, sh := range e.shapes {
			for k := 1; sh.pipe && k < len(sh.at); k++ {
				for _, b := range list {
					if b.symbol && (b.element == i || related(s.elements[b.element], e)) {
						continue
					}
					if _, _, hit := clip(sh.at[k-1], sh.at[k], b.box.grown(-hair)); hit {
						t.Errorf("%s: pipe %s runs through %s: %v to %v, %v", name, e.id, b.what, sh.at[k-1], sh.at[k], b.box)
					}
				}
			}
		}
	}
}

// related reports whether a symbol stands on, in or at the end of a pipe.
func related(symbol, pipe element) bool {
	for _, end := range pipe.ends {
		if end != "" && (end == symbol.id || end == symbol.ends[0] || end == symbol.ends[1]) {
			return true
		}
	}
	return symbol.owner != "" && symbol.owner == pipe.id
}

// inPage fails where something leaves the page.
func inPage(t *testing.T, name string, s *sheet, w, h float64) {
	t.Helper()
	for _, e := range s.elements {
		for _, sh := range e.shapes {
			if b := sh.bounds(); b.x0 < -0.5 || b.y0 < -0.5 || b.x1 > w+0.5 || b.y1 > h+0.5 {
				t.Errorf("%s: %q %s leaves the page %v x %v: %v", name, sh.text, e.id, w, h, b)
			}
		}
	}
}

func TestNothingOverlapsInRisers(t *testing.T) {
	for name, d := range map[string]RiserData{
		"demo": demoRiser(), "bad": badRiser(), "60 fixtures": building(3, 5, 4), "one storey": building(1, 1, 60),
		"tower": building(1, 30, 2), "empty": {},
	} {
		s, w, h := riserSheet(d)
		apart(t, name, s)
		inPage(t, name, s, w, h)
	}
}

func TestNothingOverlapsInAnyRiser(t *testing.T) {
	for seed := int64(0); seed < 200; seed++ {
		s, w, h := riserSheet(anyRiser(rand.New(rand.NewSource(seed)), 8+int(seed)%50))
		name := fmt.Sprint("seed ", seed)
		apart(t, name, s)
		inPage(t, name, s, w, h)
	}
}

func TestNothingOverlapsInChartsAndSections(t *testing.T) {
	for name, d := range map[string]PumpData{"demo": demoPump(), "weak": weakPump(), "strong": strongPump(), "twin": twinPumps(), "empty": {}} {
		s, h := pumpSheet(d)
		apart(t, name, s)
		inPage(t, name, s, chartWidth, h)
	}
	for name, d := range map[string]BasinData{"demo": demoBasin(), "poor": poorBasin(), "empty": {}} {
		s, h := basinSheet(d)
		apart(t, name, s)
		inPage(t, name, s, basinWidth, h)
	}
}

func TestNothingOverlapsInPumpedSides(t *testing.T) {
	long := demoPumped()
	long.Devices = append(long.Devices, Device{Kind: "backwater_valve", Detail: strings.Repeat("a very long detail ", 12)}, Device{Kind: "cleanout"})
	for name, d := range map[string]PumpedData{"demo": demoPumped(), "long": long, "empty": {}} {
		s, h := pumpedSheet(d)
		apart(t, name, s)
		inPage(t, name, s, stripWidth, h)
	}
}

// The check must see what it is there to see.
func TestOverlapIsSeen(t *testing.T) {
	a := thing{box: text(0, 0, 10, start, "3 in").bounds()}
	b := thing{box: text(8, 2, 10, start, "2 in").bounds()}
	c := thing{box: text(8, 14, 10, start, "2 in").bounds()}
	if !a.meets(b.box) || a.meets(c.box) {
		t.Errorf("overlap of %v with %v, none with %v expected", a.box, b.box, c.box)
	}
	if _, _, hit := clip(point{-5, -3}, point{50, -3}, a.box); !hit {
		t.Error("a line through a text is not seen")
	}
}

// anyRiser grows a random design: trees of drains with all kinds of branches,
// pumped basins inside, vents joined at random, air admittance valves, devices
// and marks anywhere.
func anyRiser(r *rand.Rand, n int) RiserData {
	b := &builder{RiserData: RiserData{Frame: Frame{Prefix: "x-", Marks: map[string][]Mark{}}}}
	open := []string{b.node(Connection, "sewer")}
	kinds := []string{"water_closet", "lavatory", "shower", "drinking_fountain", "spa_tub"}
	var vents []string
	for i := range n {
		at := open[r.Intn(len(open))]
		id := fmt.Sprintf("n%d", i)
		var dev []Device
		for range r.Intn(4) - 1 {
			k := []string{"cleanout", "check_valve", "union", "backwater_valve", "odd"}[r.Intn(5)]
			dev = append(dev, Device{ID: fmt.Sprintf("dev%d.%d", i, len(dev)), Kind: k})
		}
		switch r.Intn(8) {
		case 0:
			b.node(Basin, "basin-"+id)
			b.Nodes = append(b.Nodes, Node{ID: id, Kind: Pump, In: "basin-" + id})
			b.pipe(Pumped, id, at, "2 in", false, dev...)
			open, vents = append(open, "basin-"+id), append(vents, "basin-"+id)
		case 1, 2, 3:
			b.Nodes = append(b.Nodes, Node{ID: id, Kind: Fixture, Fixture: kinds[r.Intn(5)], Trap: []string{"", "1-1/2 in"}[r.Intn(2)]})
			b.pipe(Drain, id, at, "1-1/2 in", r.Intn(3) == 0, dev...)
		default:
			b.Nodes = append(b.Nodes, Node{ID: id, Kind: Junction, Notes: [][]string{nil, nil, {"inv. -10 ft 2 in"}}[r.Intn(3)]})
			b.pipe(Drain, id, at, "3 in", r.Intn(2) == 0, dev...)
			open = append(open, id)
			if r.Intn(2) == 0 {
				vents = append(vents, id)
			}
		}
		if r.Intn(6) == 0 {
			b.Marks[id] = []Mark{{Text: "1"}, {Text: "22"}}
		}
		if len(dev) > 0 && r.Intn(4) == 0 {
			b.Marks[dev[0].ID] = []Mark{{Text: "3"}, {Text: "4"}, {Text: "5"}}
		}
	}
	b.anyVents(r, vents)
	return b.RiserData
}

// anyVents joins loose vents two by two until each has ended.
func (b *builder) anyVents(r *rand.Rand, open []string) {
	for i := 0; len(open) > 0; i++ {
		at := open[0]
		open = open[1:]
		switch {
		case r.Intn(4) == 0 || len(open) == 0:
			kind := []NodeKind{RoofVent, WallVent, AirValve}[r.Intn(3)]
			b.pipe(Vent, at, b.node(kind, fmt.Sprintf("end%d", i)), "2 in", r.Intn(4) > 0)
		default:
			joint := b.node(Junction, fmt.Sprintf("v%d", i))
			k := r.Intn(len(open))
			b.pipe(Vent, at, joint, "2 in", r.Intn(2) == 0)
			b.pipe(Vent, open[k], joint, "2 in", r.Intn(2) == 0)
			open[k] = joint
			if r.Intn(5) == 0 {
				b.Marks[joint] = []Mark{{Text: "7"}, {Text: "8"}}
			}
		}
	}
}

// badRiser is the demo design drawn by somebody careless: a loop, a vent to
// nowhere, two ways out, two pumps, a dead end, an upside-down pipe, long names.
func badRiser() RiserData {
	d := demoRiser()
	d.Nodes = append(d.Nodes,
		Node{ID: "loop-a", Kind: Junction}, Node{ID: "loop-b", Kind: Junction},
		Node{ID: "pump-2", Kind: Pump, In: "basin"}, Node{ID: "end", Kind: Junction},
		Node{ID: "urinal with a very long name indeed", Kind: Fixture, Fixture: "urinal", Trap: "2 in"},
		Node{ID: "stray <junction> & \"quotes\"", Kind: Junction})
	add := func(id string, s Service, from, to string) {
		d.Pipes = append(d.Pipes, Pipe{ID: id, Service: s, From: from, To: to, Size: "2 in", Slope: "-1/4 in/ft"})
	}
	add("round-1", Drain, "loop-a", "loop-b")
	add("round-2", Drain, "loop-b", "loop-a")
	add("second", Drain, "j-closet", "house-drain")
	add("discharge-2", Pumped, "pump-2", "house-drain")
	add("lost", Vent, "j-closet", "nowhere")
	add("dead", Drain, "end", "j-main-drain")
	add("urinal-arm", Drain, "urinal with a very long name indeed", "j-main-drain")
	add("wrong", Vent, "j-foot", "j-main-sink")
	add("stray", Drain, "shower", "stray <junction> & \"quotes\"")
	d.Marks["dead"] = []Mark{{Text: "21"}, {Text: "22"}, {Text: "23"}}
	d.Marks["second"] = []Mark{{Text: "24", Href: "#finding-24"}}
	return d
}
