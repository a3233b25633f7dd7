package random

import "strconv"

// basin adds a basin with its inlet at an elevation, and returns where drains
// end.
func (g *maker) basin(id string, at int64, dn int) *node {
	height := g.length(18, 48)
	depth := height + g.length(4, 30)
	floor := at - height
	b := g.add(basins, id)
	area := g.plan(b)
	b.may("depth", g.text(depth)).may("floor", g.text(floor))
	inlet := g.object().may("size", g.size(either(g, []int{dn, 100}, 80, 50)))
	shift := either(g, []int64{0}, inch, -inch, inch/4)
	if g.chance(80) {
		inlet.must("height", g.text(height+shift))
	} else {
		inlet.must("invert", g.text(at+shift))
	}
	b.may("inlet", inlet)
	b.may("cover", g.object().yes("gas_tight").yes("fastened").yes("removable").yes("load_rated")).yes("accessible")
	g.levels(b, height)
	b.may("alarm", g.object().may("kind", either(g, []string{"audible", "visual", "audible_and_visual"}, "none")).yes("own_circuit"))
	b.rarely(70, "material", pick(g, "polyethylene", "fibreglass", "concrete")).rarely(60, "bedding", "6 in of crushed stone")
	if g.chance(70) {
		g.ground(b, floor, depth, area)
	}
	b.rarely(10, "engineered_vent_design", g.chance(70))
	g.basinVent(id, dn)
	return &node{id: id, at: at, dn: dn, stated: shift != 0}
}

// plan gives a basin its shape and returns its outside area in square feet.
func (g *maker) plan(b *element) int {
	if g.chance(70) {
		d := either(g, []int64{24 * inch, 30 * inch, 36 * inch, 48 * inch}, 16*inch, 18*inch, 72*inch, 18*inch-inch/4)
		if g.metric {
			d = pick(g, int64(600), 800, 1000, 1200) * millimetre
		}
		b.may("shape", "round").may("diameter", g.text(d))
		b.rarely(80, "outside_diameter", g.text(d+2*inch))
		return int((d/inch + 2) * (d/inch + 2) * 785 / 1000 / 144)
	}
	l, w := g.length(24, 60), g.length(24, 48)
	b.may("shape", "rectangular").may("plan_length", g.text(l)).may("plan_width", g.text(w))
	return int(l / inch * (w / inch) / 144)
}

// levels sets the switching levels below the inlet, which lies at a height.
func (g *maker) levels(b *element, height int64) {
	l := g.object()
	stop := g.onGrid(height / int64(g.between(3, 6)))
	start := g.onGrid(stop + (height-stop)/int64(g.between(2, 4)))
	second := g.onGrid(start + (height-start)/4)
	alarm := g.onGrid(start + (height-start)*int64(g.between(5, 8))/10)
	switch {
	case g.usual():
	case g.chance(40):
		alarm = height
	case g.chance(30):
		stop, start = start, stop
	case g.chance(30):
		start, second = height+2*inch, height+3*inch
	default:
		alarm = height + inch/4
	}
	l.may("stop", g.text(stop)).may("start", g.text(start)).rarely(40, "second_start", g.text(second)).may("alarm", g.text(alarm))
	b.may("levels", l)
}

// ground sets what holds a basin down in ground water.
func (g *maker) ground(b *element, floor, depth int64, area int) {
	grade := floor + depth + pick[int64](g, 0, 0, 1)*g.length(0, 12)
	wet := g.onGrid(depth * int64(g.between(0, 10)) / 10)
	if g.chance(15) {
		wet = -g.length(6, 40)
	}
	b.may("grade", g.text(grade)).may("ground_water", g.text(floor+wet))
	uplift := int(max(wet, 0)/inch) * area * 624 / 120 // pounds, by the foot of depth
	b.may("weight", g.weight(either(g, []int{110, 300, 60 + uplift}, 40, uplift/2)))
	b.rarely(30, "ballast", g.weight(pick(g, 200, uplift, uplift/3)))
	if g.chance(40) {
		s := g.object().may("diameter", g.text(g.length(40, 90))).may("thickness", g.text(g.length(4, 14)))
		s.rarely(60, "density", g.density(pick(g, 145, 150))).rarely(60, "soil_moist", g.density(pick(g, 100, 105))).rarely(60, "soil_saturated", g.density(pick(g, 120, 125)))
		b.may("anti_flotation_slab", s)
	}
}

func (g *maker) basinVent(id string, dn int) {
	size := g.near(pick(g, 50, 50, 80, 40, 32))
	switch n := g.IntN(100); {
	case n < 60:
		g.pipe("vent", id, g.terminal(size, false), size, g.rise(g.length(120, 700)))
	case n < 80 && len(g.airways) > 0:
		g.pipe("vent", id, pick(g, g.airways...).id, size, g.rise(g.length(60, 200)))
	case n < 85:
		g.pipe("vent", id, g.airValve(size, "branch"), size, g.rise(g.length(20, 60)))
	case n < 92:
		g.pipe("vent", id, g.header(0, size).id, size, g.rise(g.length(60, 200)))
	}
}

// receiver is where a pumped line can end.
type receiver struct {
	id string
	at int64
	e  *element // the junction, nil for a connection or a basin
}

// lifts adds the pumps of a basin and their lines.
func (g *maker) lifts(sump *node, at int64) {
	count := pick(g, 1, 1, 1, 2, 2, 3)
	if g.chance(4) {
		return
	}
	to := g.receive(at)
	dn := g.near(pick(g, 50, 50, 80, 32, 40, 25))
	lift := max(to.at-at+3*foot, foot)
	shared := count > 1 && g.chance(70)
	style := g.pumpStyle()
	meet := ""
	if shared {
		meet = g.name("jp")
		g.add(junctions, meet).rarely(60, "fitting", "wye").rarely(30, "size", g.size(dn))
		p := g.pipe("pumped", meet, to.id, dn, g.risingMain(to.at, lift))
		g.lineDevices(p, g.chance(20))
	}
	for i := range count {
		pump := g.pump(sump.id, i, lift, style)
		end := to
		if shared {
			end = receiver{id: meet}
		}
		if !shared && g.chance(15) {
			part := g.name("jp")
			g.add(junctions, part).rarely(60, "fitting", "coupling")
			p := g.pipe("pumped", pump, part, dn, g.risingMain(at, foot))
			g.lineDevices(p, true)
			p = g.pipe("pumped", part, end.id, g.near(dn), g.risingMain(to.at, lift))
			g.lineDevices(p, g.chance(20))
			continue
		}
		p := g.pipe("pumped", pump, end.id, dn, g.risingMain(to.at, lift))
		g.lineDevices(p, true)
	}
}

// receive finds where a pumped line ends: what stands already, or a connection.
func (g *maker) receive(at int64) receiver {
	if len(g.receivers) > 0 && g.chance(50) {
		r := pick(g, g.receivers...)
		if r.e != nil {
			r.e.rarely(80, "entry", pick(g, "top", "top", "side", "bottom"))
		}
		return r
	}
	up := g.onGrid(at + g.length(30, 180))
	r := receiver{id: g.name("out"), at: up}
	g.connection(r.id, up, either(g, []int{80, 100, 100, 150}, 32, 40, 50))
	if g.chance(30) {
		g.receivers = append(g.receivers, r)
	}
	return r
}

// connection adds where drainage leaves the design.
func (g *maker) connection(id string, at int64, dn int) *node {
	c := g.add(connections, id).must("kind", either(g, []string{"building_drain", "building_drain", "building_sewer", "stack"}, "branch"))
	c.may("lie", pick(g, "horizontal", "horizontal", "horizontal", "vertical")).may("size", g.size(dn)).may("slope", g.pitch().text)
	shift := either(g, []int64{0}, 0, -2*inch, 3*inch)
	c.may("invert", g.text(at+shift))
	c.rarely(80, "existing_load", g.load(pick(g, 0, 100, 310, 600, 1600))).rarely(80, "existing_water_closets", g.between(0, 8))
	c.rarely(40, "branch_intervals", g.between(1, 8))
	c.may("fitting", either(g, []string{"wye", "combination_wye"}, allFittings...)).rarely(80, "entry", either(g, []string{"top", "side"}, "bottom"))
	c.may("distance_from_stack_base", either(g, []string{"10 ft", "12 ft", g.of("20 ft", "4 m")}, "9 ft 11 in", "2 ft", "6 ft"))
	c.may("distance_from_fixture_drain", either(g, []string{"10 ft", "12 ft", g.of("20 ft", "4 m")}, "9 ft 11 in", "2 ft"))
	c.rarely(60, "has_backwater_valve", g.chance(50))
	return &node{id: id, at: at, dn: dn, stated: shift != 0}
}

// style is what the pumps of a basin have in common.
type style struct {
	kind, model, friction string
	points                int
}

func (g *maker) pumpStyle() style {
	return style{
		kind:     either(g, []string{"solids_handling", "solids_handling", "grinder", "macerating"}, "effluent"),
		model:    pick(g, "segments", "segments", "three_point"),
		friction: pick(g, "", "", "hazen_williams", "darcy_weisbach"),
		points:   g.between(2, 6),
	}
}

// pump adds a pump for a lift, and its supply.
func (g *maker) pump(basin string, i int, lift int64, s style) string {
	id := g.name("pump")
	p := g.add(pumps, id).must("basin", basin).may("kind", s.kind)
	p.may("solids", either(g, []string{"2 in", g.of("2-1/2 in", "65 mm"), g.of("3 in", "80 mm")}, "1 in", "1/2 in", "1-15/16 in", "3/4 in"))
	p.may("outlet", g.size(g.near(pick(g, 50, 50, 80, 32))))
	if g.chance(15) {
		p.may("stated_rate", g.flow(pick(g, 90, 210, 250, 400)))
	}
	if g.chance(88) {
		g.curve(p, lift, s)
	}
	if s.friction != "" {
		p.may("friction_method", s.friction)
	}
	p.may("duty", map[bool]string{true: "duty", false: "standby"}[i == 0 || g.chance(50)])
	p.may("cord_length", g.text(g.length(60, 400))).may("max_starts_per_hour", pick(g, 6, 10, 15, 20, 60)).may("min_run_time", pick(g, "10 s", "20 s", "1 min", "2 min"))
	if g.chance(85) {
		g.add(supplies, g.name("supply")).must("pump", id).may("receptacle_distance", g.text(g.length(24, 300))).
			may("protection", either(g, []string{"ground_fault"}, "none")).yes("dedicated_circuit")
	}
	return id
}

// curve draws a falling curve that lifts enough at the usual care.
func (g *maker) curve(p *element, lift int64, s style) {
	tenths := int(lift/(foot/10)) * pick(g, 13, 16, 20, 30) / 10
	if !g.usual() {
		tenths = tenths * pick(g, 4, 9, 60) / 10
	}
	tenths = max(tenths, 40)
	most := pick(g, 60, 150, 300, 400, 600, 1000, 3000) // tenths of a gallon a minute
	n := s.points
	if s.model == "three_point" {
		n = 3
	}
	metric := g.metric || g.mixed && g.chance(30) // in one system, or rounding could let the curve rise
	var list []*element
	for i := range n {
		// A parabola: h = h0 (1 - 0.9 (q/qmax)^2).
		q := most * i / (n - 1)
		h := tenths - tenths*9*i*i/(10*(n-1)*(n-1))
		flow, head := decimal(int64(q), 10)+" gpm", decimal(int64(h), 10)+" ft"
		if metric {
			flow, head = decimal(int64(q)*63, 10_000)+" L/s", decimal(int64(h)*30, 1000)+" m"
		}
		list = append(list, g.object().must("flow", flow).must("head", head))
	}
	if s.model == "segments" && n > 2 && g.chance(5) {
		list = list[1:]
	}
	p.may("curve", list).may("curve_model", s.model)
	p.rarely(60, "curve_tolerance_percent", pick(g, 0, 3, 5, 10))
}

// risingMain lays a pumped pipe up to an elevation.
func (g *maker) risingMain(to, lift int64) func(*element) {
	return func(p *element) {
		p.may("length", g.text(g.onGrid(lift)+either(g, []int64{g.length(24, 400)}, g.length(1000, 4000)))).may("pressure_rating", g.of(pick(g, "160 psi", "280 psi", "3 psi"), "10 bar"))
		up := to
		if g.chance(15) {
			up += g.length(6, 90) // a loop above what receives it
		}
		p.rarely(60, "invert_to", g.text(up)).rarely(50, "buried", g.chance(30))
		if g.chance(8) {
			p.may("hazen_williams_c", g.coefficients(120, 140, 150, 130))
		}
		g.bends(p, way{length: lift})
		if g.chance(30) {
			p.may("joints", []*element{g.object().must("kind", either(g, []string{"solvent_cement", "flanged", "threaded", "fusion"}, allJoints...))})
		}
	}
}

// lineDevices puts devices into a pumped pipe: a check valve, then a valve that
// shuts, at the usual care.
func (g *maker) lineDevices(p *element, full bool) {
	if !full {
		return
	}
	order := either(g, []string{"relief_hole check_valve union full_open_valve", "check_valve full_open_valve", "union check_valve full_open_valve", "relief_hole check_valve full_open_valve"},
		"full_open_valve check_valve", "check_valve", "shutoff_valve", "check_valve shutoff_valve", "union relief_hole", "flexible_coupling reducer check_valve full_open_valve cleanout",
		"check_valve relief_hole full_open_valve backwater_valve", "check_valve trap")
	var list []*element
	for i, kind := range words(order) {
		d := g.device(g.name("dev")).must("kind", kind)
		switch kind {
		case "check_valve":
			d.may("style", pick(g, "swing", "ball", "lift"))
		case "full_open_valve":
			d.may("style", either(g, []string{"gate", "ball", "plug"}, "globe", "butterfly"))
		case "shutoff_valve":
			d.may("style", pick(g, "gate", "globe", "butterfly"))
		case "relief_hole":
			d.may("hole", either(g, []string{"3/16 in", "1/4 in"}, "1/8 in"))
		case "reducer":
			d.may("size", g.size(pick(g, 50, 80)))
		}
		d.may("place", either(g, []string{"above_cover", "access_pit", "exposed"}, "inside_basin", "buried", "in_wall", "in_floor")).yes("accessible")
		d.rarely(70, "at", strconv.Itoa(6+4*i)+" in").rarely(5, "k", pick(g, 0.0, 2.5, 10.0))
		list = append(list, d)
	}
	p.must("devices", list)
}
