package random

// airway is a junction of vents that has its own way on.
type airway struct {
	id string
	at int64
	dn int
}

// vent lets air into a junction of drains; rim is the highest flood-level rim
// that relies on it.
func (g *maker) vent(from *node, rim int64) {
	dn := g.near(max(32, min(50, from.dn)))
	if g.chance(3) {
		return
	}
	over := max(rim-from.at, 0) + either(g, []int64{6 * inch, 8 * inch, 12 * inch, 40 * inch}, 0, 5*inch, -8*inch, 6*inch-sixteenth)
	over = max(g.onGrid(over), 3*inch)
	switch n := g.IntN(100); {
	case n < 25 || len(g.airways) == 0 && n < 60:
		g.pipe("vent", from.id, g.terminal(dn, false), dn, g.rise(g.length(120, 500)))
	case n < 35:
		g.pipe("vent", from.id, g.airValve(dn, pick(g, "individual", "branch", "stack")), dn, g.rise(g.length(4, 60)))
	case n < 60:
		to := pick(g, g.airways[max(0, len(g.airways)-12):]...)
		g.collect(from.id, from.at, over, dn, to)
	case n < 66: // ends at a junction from which nothing leads on
		end := g.add(junctions, g.name("vj")).rarely(50, "fitting", "vent_tee")
		g.pipe("vent", from.id, end.id(), dn, g.rise(over))
	default:
		top := g.header(from.at+over, dn)
		g.pipe("vent", from.id, top.id, dn, g.rise(over))
	}
	if g.chance(4) && len(g.airways) > 0 { // a second vent, parallel to the first
		g.pipe("vent", from.id, pick(g, g.airways...).id, dn, g.rise(over))
	}
}

// header adds a junction of vents with its way to the open air.
func (g *maker) header(at int64, dn int) airway {
	id := g.name("vj")
	g.add(junctions, id).rarely(80, "fitting", either(g, []string{"vent_tee"}, "wye", "sanitary_tee", "tee", "coupling")).rarely(20, "size", g.size(dn))
	dn = max(dn, g.near(max(dn, pick(g, 40, 50, 80))))
	if len(g.airways) > 0 && g.chance(30) {
		to := pick(g, g.airways[max(0, len(g.airways)-12):]...)
		g.pipe("vent", id, to.id, dn, g.along(at))
	} else {
		g.pipe("vent", id, g.terminal(dn, false), dn, g.rise(g.length(100, 600)))
	}
	a := airway{id, at, dn}
	g.airways = append(g.airways, a)
	return a
}

// collect leads a vent up and along to another one.
func (g *maker) collect(from string, at, over int64, dn int, to airway) {
	if g.chance(40) {
		g.pipe("vent", from, to.id, dn, g.rise(over))
		return
	}
	turn := g.name("vj")
	g.add(junctions, turn).rarely(30, "fitting", "vent_tee")
	g.pipe("vent", from, turn, dn, g.rise(over))
	g.pipe("vent", turn, to.id, g.near(dn), g.along(at+over))
	if g.chance(50) {
		g.airways = append(g.airways, airway{turn, at + over, dn})
	}
}

// rise is a vent that stands, along one that lies at an elevation.
func (g *maker) rise(length int64) func(p *element) {
	return func(p *element) {
		p.may("length", g.text(max(length, 0)))
		p.rarely(85, "lie", pick(g, "vertical", "vertical", "vertical", "vertical", "sloped_45"))
	}
}

func (g *maker) along(at int64) func(p *element) {
	return func(p *element) {
		p.may("length", g.text(either(g, []int64{g.length(12, 200)}, g.length(200, 2400))))
		p.may("slope", either(g, []string{"1/8 in/ft", "1/4 in/ft", "1 %"}, "0 %", "-1/8 in/ft", "1/16 in/ft"))
		p.rarely(85, "lie", "horizontal").rarely(50, "invert_from", g.text(at)).rarely(10, "invert_to", g.text(at+pick[int64](g, -2, 0, 1, 2)*inch))
	}
}

// pipe adds a vent or a pumped pipe; lay says how it lies.
func (g *maker) pipe(service, from, to string, dn int, lay func(*element)) *element {
	p := g.add(pipes, g.name(service)).must("service", service).must("from", from).must("to", to)
	p.may("size", g.size(dn))
	g.material(p)
	lay(p)
	if service == "vent" {
		g.bends(p, way{length: foot})
		g.joints(p)
	}
	return p
}

// terminal adds an end of vents in the open air, any kind where it is loose.
func (g *maker) terminal(dn int, loose bool) string {
	if g.closed || loose && g.chance(40) {
		return g.airValve(dn, "branch")
	}
	id := g.name("vt")
	kind := pick(g, "roof_vent", "roof_vent", "roof_vent", "wall_vent")
	t := g.add(terminals, id).must("kind", kind).may("size", g.size(either(g, []int{g.near(dn), 80, 100}, 50, 32)))
	t.may("elevation", g.text(g.length(200, 500)))
	t.may("distance_to_opening", either(g, []string{"10 ft", "12 ft", g.of("15 ft", "4 m")}, "9 ft 11 in", "3 ft", g.of("2 ft", "1 m")))
	t.may("height_above_opening", either(g, []string{"3 ft", "2 ft", "1 m"}, "0 in", "-2 ft", "1 ft 11 in"))
	t.may("distance_to_lot_line", either(g, []string{"3 ft", "10 ft", g.of("12 ft", "4 m")}, "2 ft 11 in", "0 in"))
	if kind == "roof_vent" || g.chance(10) {
		t.may("height_above_roof", either(g, []string{"6 in", "8 in", "12 in", g.of("24 in", "600 mm")}, "5-15/16 in", "0 in", "2 in"))
		t.may("roof_used", g.chance(15))
	}
	return id
}

// airValve adds an air admittance valve.
func (g *maker) airValve(dn int, what string) string {
	id := g.name("aav")
	t := g.add(terminals, id).must("kind", "air_admittance_valve").may("size", g.size(g.near(dn)))
	t.may("valve_type", what)
	t.may("rating", either(g, []string{g.load(60), g.load(240), g.load(500)}, g.load(10), g.load(5)))
	t.may("height_above_drain", either(g, []string{"4 in", "6 in", g.of("12 in", "150 mm")}, "3-15/16 in", "0 in", "-2 in"))
	if g.chance(60) {
		t.may("insulation", "present").may("height_above_insulation", either(g, []string{"6 in", "8 in"}, "5-15/16 in", "0 in"))
	} else {
		t.may("insulation", "none")
	}
	t.yes("accessible").yes("air_can_enter").no("in_plenum").rarely(60, "engineered_design", g.chance(70))
	return id
}
