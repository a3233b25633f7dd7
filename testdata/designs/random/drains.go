package random

import "slices"

// node is a junction of drains, or where drains end: a basin or a connection.
type node struct {
	id     string
	at     int64 // elevation of the invert, nm
	dn     int
	stated bool // its own statement differs: drains that end here state their level
	e      *element
}

// way is how a drain lies.
type way struct {
	lie    string // horizontal, vertical or sloped_45
	length int64
	pitch  slope
}

func (g *maker) level(low, high int) way { return way{"horizontal", g.length(low, high), g.pitch()} }
func (g *maker) drop(low, high int) way {
	lie := "vertical"
	if g.chance(8) {
		lie = "sloped_45"
	}
	return way{lie, g.length(low, high), slope{}}
}

// fall is how much lower the drain ends than it begins.
func (w way) fall() int64 {
	switch w.lie {
	case "vertical":
		return w.length
	case "sloped_45":
		return w.length / 10_000 * 7071 // sine of 45 degrees; the rest is no tenth of a millimetre
	}
	return w.pitch.over(w.length)
}

// Fittings that suit the direction of the flow (common practice).
var (
	flatFittings = []string{"wye", "wye", "combination_wye"}
	dropFittings = []string{"sanitary_tee", "wye", "combination_wye"}
	footFittings = []string{"combination_wye", "wye"}
	allFittings  = []string{"wye", "combination_wye", "sanitary_tee", "double_wye", "double_combination_wye", "double_sanitary_tee",
		"tee", "vent_tee", "closet_flange", "end_cap", "coupling", "heel_inlet_bend"}
)

// junction adds a junction whose invert lies at an elevation.
func (g *maker) junction(at int64, dn int, fittings ...string) *node {
	n := &node{id: g.name("j"), at: at, dn: dn}
	n.e = g.add(junctions, n.id)
	n.e.may("fitting", either(g, fittings, allFittings...)).rarely(80, "size", g.size(dn))
	n.e.rarely(15, "invert", g.text(at))
	return n
}

// up adds a junction above a node and the drain between them.
func (g *maker) up(to *node, w way, dn int, fittings ...string) (*node, *element) {
	from := g.junction(to.at+w.fall(), dn, fittings...)
	return from, g.drain(from.id, to, w, dn)
}

// drain adds a drain that ends at a node.
func (g *maker) drain(from string, to *node, w way, dn int) *element {
	id := g.name("drain")
	p := g.add(pipes, id).must("service", "drain").must("from", from).must("to", to.id)
	p.may("size", g.size(dn))
	g.material(p)
	p.may("length", g.text(w.length))
	if w.lie == "horizontal" {
		p.may("slope", w.pitch.text)
	}
	if w.lie != "horizontal" || g.chance(70) {
		p.may("lie", w.lie)
	}
	p.rarely(10, "invert_from", g.text(to.at+w.fall()))
	if to.stated {
		p.must("invert_to", g.text(to.at))
	} else {
		p.rarely(10, "invert_to", g.text(to.at))
	}
	if g.chance(60) {
		p.may("buried", true).may("cover", either(g, []string{"6 in", g.of("12 in", "300 mm"), "4 in", "18 in"}, "0 in", "1 in", "11-15/16 in"))
	} else {
		p.may("buried", false)
	}
	g.bends(p, w)
	g.joints(p)
	g.cleanouts(p, w.length, dn)
	if g.chance(3) {
		p.may("existing_load", g.load(pick(g, 10, 60, 240, 800))).may("existing_water_closets", g.between(0, 4))
	}
	if g.chance(5) {
		p.may("manning_n", g.coefficients(0.009, 0.011, 0.015, 0.013))
	}
	if to.e != nil && g.chance(25) {
		to.e.may("run", id)
	}
	return p
}

// role states one of some roles in so many of a hundred cases. A stack stands
// where nothing else is said, so that its lie is said.
func (g *maker) role(p *element, w way, percent int, roles ...string) {
	if g.chance(percent) {
		p.must("lie", w.lie).may("role", pick(g, roles...))
	}
}

// coefficients draws a range of a coefficient, or one value.
func (g *maker) coefficients(low, expected, high, other float64) *element {
	c := g.object()
	if g.chance(70) {
		return c.must("low", low).must("expected", expected).must("high", high)
	}
	return c.must("expected", other)
}

var (
	inchMaterials   = []string{"pvc_dwv", "pvc_dwv", "abs_dwv", "cast_iron", "copper_dwv", "abs_sch40", "pvc_sch40"}
	metricMaterials = []string{"pvc_u_en", "pvc_u_en", "pp_en", "pe_en", "cast_iron", "vitrified_clay", "stainless_316l"}
	allMaterials    = []string{"pvc_dwv", "abs_dwv", "pvc_sch40", "abs_sch40", "cast_iron", "copper_dwv", "copper_l", "cpvc", "pe", "ductile_iron",
		"steel_galvanized", "stainless_304", "stainless_316l", "vitrified_clay", "pvc_u_en", "pe_en", "pp_en"}
)

func (g *maker) material(p *element) {
	usual := inchMaterials
	if g.metric {
		usual = metricMaterials
	}
	p.may("material", either(g, usual, allMaterials...))
}

var (
	allBends   = []string{"quarter_bend", "short_sweep", "long_sweep", "sixth_bend", "eighth_bend", "sixteenth_bend"}
	allChanges = []string{"horizontal_to_vertical", "vertical_to_horizontal", "horizontal_to_horizontal"}
)

func (g *maker) bends(p *element, w way) {
	if !g.chance(25) {
		return
	}
	var list []*element
	for range pick(g, 1, 1, 1, 2, 2, 3, 5) {
		b := g.object().must("kind", pick(g, allBends...))
		b.rarely(80, "change", pick(g, allChanges...)).rarely(60, "at", g.text(g.onGrid(w.length/int64(g.between(1, 6)))))
		list = append(list, b)
	}
	p.may("bends", list)
}

var allJoints = []string{"solvent_cement", "transition_cement", "shielded_coupling", "unshielded_coupling", "hubless", "hub_and_gasket",
	"threaded", "fusion", "soldered", "flanged", "mechanical"}

func (g *maker) joints(p *element) {
	if !g.chance(20) {
		return
	}
	var list []*element
	for range g.between(1, 2) {
		j := g.object().must("kind", either(g, []string{"solvent_cement", "hub_and_gasket", "shielded_coupling"}, allJoints...))
		list = append(list, j.rarely(30, "joins", pick(g, allMaterials...)))
	}
	p.may("joints", list)
}

// cleanouts puts cleanouts, and now and then another device, into a drain.
func (g *maker) cleanouts(p *element, length int64, dn int) {
	if !g.chance(25) {
		return
	}
	var list []*element
	if g.chance(80) {
		d := g.device(g.name("co")).must("kind", "cleanout").may("size", g.size(g.near(dn)))
		d.may("place", either(g, []string{"in_floor", "in_wall", "exposed", "access_pit"}, "buried", "above_cover", "inside_basin"))
		d.yes("accessible").may("at", pick(g, "0 in", g.text(g.onGrid(length/2)), g.text(length)))
		d.may("clearance", either(g, []string{"18 in", "24 in", g.of("36 in", "500 mm")}, "17-15/16 in", "11 in", g.of("12 in", "300 mm")))
		list = append(list, d)
	}
	if len(list) == 0 || g.chance(10) {
		kind := pick(g, "backwater_valve", "backwater_valve", "trap", "flexible_coupling", "reducer", "union", "full_open_valve", "shutoff_valve")
		d := g.device(g.name("dev")).must("kind", kind).yes("accessible").may("place", pick(g, "access_pit", "in_floor", "buried", "exposed"))
		if kind == "reducer" {
			d.may("size", g.size(g.near(dn)))
		}
		if kind == "full_open_valve" || kind == "shutoff_valve" {
			d.may("style", pick(g, "gate", "ball", "plug"))
		}
		list = append(list, d.rarely(50, "at", "1 in"))
	}
	p.must("devices", list)
}

// system adds one tree of drains with all that drains into it, and, where it
// ends in a basin, the pumps that lift on.
func (g *maker) system() {
	size := min(g.want-g.made, pick(g, 30, 30, 30, 60, 60, 120, 250, 600, 5000))
	until := g.made + size
	at := g.onGrid(-g.length(20, 160))
	dn := pick(g, 80, 80, 100, 100, 100, 150)
	if size > 250 {
		dn = pick(g, 100, 150, 200, 250)
	}
	var sink *node
	wet := size >= 25 && g.chance(55)
	if wet {
		sink = g.basin(g.name("sump"), at, dn)
		g.lifts(sink, at)
	} else {
		sink = g.connection(g.name("out"), at, dn)
	}
	main := g.main(sink, dn, until)
	g.odds(sink, main)
	for _, n := range main {
		g.receivers = append(g.receivers, receiver{n.id, n.at, n.e})
	}
	if wet && g.chance(30) {
		g.receivers = append(g.receivers, receiver{id: sink.id, at: sink.at})
	}
}

// main builds a drain upwards from where it ends, with branches, until there
// are so many elements, and returns its junctions.
func (g *maker) main(sink *node, dn, until int) []*node {
	var line []*node
	at := sink
	for first := true; first || g.made < until; first = false {
		w := g.level(12, 160)
		switch n := g.IntN(100); {
		case n < 5:
			w = g.drop(6, 40)
		case n < 9:
			w.length = either(g, []int64{g.length(400, 1100)}, 100*foot, g.length(1200, 2400))
		}
		if len(line) > 200 && w.pitch.num > 0 {
			w.pitch = slope{"1/8 in/ft", 1, 96} // no main is as deep as a mine
		}
		next, p := g.up(at, w, dn, flatFittings...)
		g.role(p, w, 30, either(g, []string{"building_drain", "branch"}, "building_sewer", "stack", "fixture_drain"))
		line = append(line, next)
		at = next
		for range pick(g, 1, 1, 1, 2) { // at least one, so that mains end
			g.branch(next)
		}
		if dn > 50 && g.chance(5) {
			dn = g.near(dn)
		}
	}
	if g.made < until && g.chance(70) {
		g.branch(at)
	}
	return slices.Clip(line)
}
