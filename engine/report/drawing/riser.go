package drawing

import (
	"fmt"
	"strings"
)

// RiserData is a riser diagram: nodes, and the pipes between them in the
// direction of flow. Texts are printed as they come.
type RiserData struct {
	Frame
	Nodes []Node
	Pipes []Pipe
}

// NodeKind says what stands at a node.
type NodeKind string

// The kinds of node.
const (
	Fixture    NodeKind = "fixture"
	Junction   NodeKind = "junction"
	Basin      NodeKind = "basin"
	Pump       NodeKind = "pump"
	Connection NodeKind = "connection"
	RoofVent   NodeKind = "roof_vent"
	WallVent   NodeKind = "wall_vent"
	AirValve   NodeKind = "air_admittance_valve"
)

// Node is a fixture, a fitting, a basin, a pump, a vent terminal or the place
// where drainage leaves.
type Node struct {
	ID      string
	Kind    NodeKind
	Fixture string   // kind of fixture: water_closet, lavatory …
	Label   string   // printed; the id where empty, nothing for a junction
	Notes   []string // further short lines: "inv. -10 ft"
	Trap    string   // text of the trap beside the fixture; "" draws none
	Storey  *int     // of a fixture; 0 is the lowest
	In      string   // of a pump: the basin it stands in
	Run     string   // of a junction: the pipe that goes straight through
}

// Service is what a pipe carries.
type Service string

// The services.
const (
	Drain  Service = "drain"
	Vent   Service = "vent"
	Pumped Service = "pumped"
)

// Pipe joins two nodes in the direction of flow; a vent runs towards the air.
type Pipe struct {
	ID       string
	Service  Service
	From, To string
	Size     string // "3 in"
	Slope    string // "1/4 in/ft"
	Label    string // further short text
	Vertical bool
	Lie      bool // Vertical is stated; otherwise vents rise and the rest lies
	Devices  []Device
}

func (p Pipe) upright() bool {
	if p.Service == Pumped {
		return false
	}
	if p.Lie {
		return p.Vertical
	}
	return p.Service == Vent
}

// Riser draws the riser diagram.
func Riser(d RiserData) []byte {
	s, w, h := riserSheet(d)
	return s.write(w, h)
}

func riserSheet(d RiserData) (*sheet, float64, float64) {
	if d.Title == "" {
		d.Title = "Riser diagram"
	}
	return newLayout(d).draw()
}

// fixtureSigns gives each kind of fixture its abbreviation.
var fixtureSigns = map[string]string{
	"water_closet": "WC", "lavatory": "LAV", "shower": "SH", "bathtub": "BT", "bidet": "BID", "urinal": "UR",
	"kitchen_sink": "KS", "bar_sink": "BS", "laundry_tray": "LT", "clothes_washer": "CW", "dishwasher": "DW",
	"floor_drain": "FD", "service_sink": "SS", "mop_sink": "MS", "drinking_fountain": "DF", "sink": "S", "other": "O",
}

func fixtureCode(kind string) string {
	if c, ok := fixtureSigns[kind]; ok {
		return c
	}
	if kind == "" {
		return "F"
	}
	return strings.ToUpper(shortWord(kind, 3))
}

// describe says the diagram in words: what there is, what drains where, and
// where each vent ends.
func (l *layout) describe() string {
	kinds := map[NodeKind]int{}
	for _, n := range l.data.Nodes {
		kinds[n.Kind]++
	}
	services := map[Service]int{}
	for _, p := range l.data.Pipes {
		services[p.Service]++
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s, %s, %s and %s", count(kinds[Fixture], "fixture"), count(services[Drain], "drain"),
		count(services[Vent], "vent"), count(services[Pumped], "pumped line"))
	for _, k := range []NodeKind{Basin, Pump, Connection, RoofVent, WallVent, AirValve} {
		if kinds[k] > 0 {
			fmt.Fprintf(&b, ", %s", count(kinds[k], strings.ReplaceAll(string(k), "_", " ")))
		}
	}
	b.WriteString(".")
	for _, i := range l.roots {
		n := l.data.Nodes[i]
		fmt.Fprintf(&b, " To %s %s: %s.", n.Kind, n.ID, count(l.fixtures(i), "fixture"))
	}
	if len(l.loose) > 0 {
		fmt.Fprintf(&b, " Not drawn in the tree: %s.", count(len(l.loose), "pipe"))
	}
	return b.String()
}
