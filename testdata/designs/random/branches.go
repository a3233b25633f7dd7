package random

// branch lets something drain into a junction: what is left of the design's
// size bounds it.
func (g *maker) branch(to *node) {
	left := g.want - g.made
	switch n := g.IntN(100); {
	case n < 34 && left > 6:
		g.vented(to)
	case n < 50 && left > 20:
		g.bathroom(to)
	case n < 58 && left > 30:
		g.circuit(to)
	case n < 66 && left > 15:
		g.combination(to)
	case n < 80 && left > 30:
		g.stack(to)
	case n < 86:
		g.deadEnd(to)
	case n < 91 && left > 6:
		g.indirect(to)
	default:
		g.unvented(to)
	}
}

// arm is the drain of one fixture to the next junction.
func (g *maker) arm(to *node, s sort) placed {
	w := g.level(6, 60)
	if !g.usual() {
		w.length = g.length(0, 200)
	}
	if s.kind == "water_closet" && g.chance(30) {
		w = g.drop(6, 24)
	}
	f := g.fixture(s, to.at+w.fall())
	p := g.drain(f.id, to, w, max(g.near(f.dn), 32))
	g.role(p, w, 10, "fixture_drain", "fixture_drain", "fixture_drain", "branch")
	return f
}

// vented is one fixture, or two at one fitting, with a vent of its own.
func (g *maker) vented(to *node) {
	dn := pick(g, 40, 50, 50, 80)
	two := g.chance(25)
	s := g.kind()
	if s.kind == "water_closet" {
		dn = max(dn, 80)
	}
	foot := to
	if g.chance(50) {
		foot, _ = g.up(to, g.level(12, 100), dn, footFittings...)
	}
	fittings := dropFittings
	if two {
		fittings = []string{"double_wye", "double_combination_wye", "double_sanitary_tee"}
	}
	w := g.drop(4, 60)
	if g.chance(30) {
		w = g.level(6, 60)
	}
	tee, p := g.up(foot, w, dn, fittings...)
	g.role(p, w, 10, "branch", "stack", "fixture_drain")
	rim := g.arm(tee, s).rim
	if two {
		tee.e.rarely(70, "back_to_back", g.chance(60))
		rim = max(rim, g.arm(tee, s).rim)
	}
	g.vent(tee, rim)
}

// unvented is one fixture, or two, that rely on nothing or on the main.
func (g *maker) unvented(to *node) {
	g.arm(to, g.kind())
	if g.chance(20) {
		g.arm(to, g.kind())
	}
}

// bathroom is fixtures along a wet vent, often one group.
func (g *maker) bathroom(to *node) {
	kinds := either(g, [][]string{{"lavatory", "shower", "water_closet"}, {"lavatory", "bathtub", "water_closet"}, {"lavatory", "water_closet"}, {"lavatory", "bidet", "bathtub", "water_closet"}},
		[]string{"water_closet", "lavatory"}, []string{"lavatory", "kitchen_sink", "water_closet", "water_closet"}, []string{"sink", "floor_drain", "urinal", "water_closet"}, []string{"lavatory", "floor_drain", "water_closet"})
	at := to
	// Upwards: the last to join stands first.
	var ids []string
	rim := int64(0)
	for i := len(kinds) - 1; i >= 0; i-- {
		dn := 50
		if i > 0 && kinds[i-1] == "water_closet" || i == len(kinds)-1 && kinds[i] == "water_closet" {
			dn = 80
		}
		w := g.level(12, 60)
		if i == 0 {
			w = g.drop(6, 40)
		}
		next, p := g.up(at, w, g.near(dn), flatFittings...)
		if i > 0 {
			p.rarely(70, "venting", "wet")
		}
		f := g.arm(next, kindOf(kinds[i]))
		ids = append(ids, f.id)
		rim = max(f.rim, rim)
		at = next
	}
	if g.usual() || g.chance(50) {
		g.vent(at, rim)
	}
	if g.chance(70) {
		g.group(ids)
	}
}

// circuit is a line of fixtures with a vent before the last, and often a
// relief vent.
func (g *maker) circuit(to *node) {
	count := either(g, []int{2, 3, 4, 8}, 1, 9, 12)
	kind := pick(g, "water_closet", "water_closet", "urinal", "floor_drain", "lavatory")
	dn := 80
	if kind == "water_closet" {
		dn = 100
	}
	at, rim := to, int64(0)
	for i := range count {
		next, p := g.up(at, g.level(12, 40), dn, flatFittings...)
		p.rarely(96, "venting", "circuit")
		f := g.arm(next, kindOf(kind))
		rim = max(rim, f.rim)
		at = next
		if i == 0 && g.chance(30) || i == count-2 && g.chance(90) {
			g.vent(next, f.rim)
		}
	}
	if count == 1 {
		g.vent(at, rim)
	}
}

// combination is a drain that vents floor drains and sinks as well.
func (g *maker) combination(to *node) {
	kinds := either(g, [][]string{{"floor_drain", "floor_drain"}, {"sink", "floor_drain"}, {"lavatory", "drinking_fountain", "floor_drain"}},
		[]string{"water_closet", "floor_drain"}, []string{"urinal", "kitchen_sink"})
	dn := pick(g, 80, 80, 100, 50)
	at, rim := to, int64(0)
	steep := g.chance(10)
	for _, k := range kinds {
		w := g.level(12, 96)
		if steep {
			w.pitch = pick(g, slope{"1/2 in/ft", 1, 24}, slope{"1 in/ft", 1, 12})
		}
		if g.chance(10) {
			w = g.drop(6, 30)
		}
		next, p := g.up(at, w, dn, flatFittings...)
		p.rarely(97, "venting", "combination")
		rim = max(rim, g.arm(next, kindOf(k)).rim)
		at = next
	}
	if g.usual() || g.chance(60) {
		g.vent(at, rim)
	}
}

// stack is storeys of branches one over the other, with a vent at its top and
// now and then a relief vent at its base.
func (g *maker) stack(to *node) {
	dn := pick(g, 80, 100, 100, 50)
	storeys := pick(g, 1, 1, 2, 3, 5, 11)
	base, at := to, to
	for i := range storeys {
		w := way{"vertical", g.storeyHeight, slope{}}
		if i == 0 {
			w.length = g.length(12, 96)
		}
		if g.chance(5) {
			w.lie = "sloped_45"
		}
		next, p := g.up(at, w, dn, dropFittings...)
		g.role(p, w, 60, "stack", "stack", "stack", "stack", "branch")
		p.rarely(40, "branch_intervals", storeys)
		at = next
		if g.want-g.made < 10 {
			break
		}
		switch g.IntN(4) {
		case 0:
			g.bathroom(next)
		case 1:
			g.unvented(next)
		default:
			g.vented(next)
		}
	}
	if g.chance(20) {
		g.vent(base, at.at)
	}
	switch {
	case g.chance(15):
		g.pipe("vent", at.id, g.airValve(dn, "stack"), dn, g.rise(g.length(4, 60)))
	case g.usual() || g.chance(60):
		g.vent(at, at.at+40*inch)
	}
}

// deadEnd is a piece of drain with nothing upstream.
func (g *maker) deadEnd(to *node) {
	end, p := g.up(to, g.level(6, 60), to.dn, "end_cap", "end_cap", "wye")
	p.rarely(20, "branch_intervals", 1)
	if g.chance(20) {
		g.vent(end, end.at+40*inch)
	}
}

// indirect is a fixture that drains into another one.
func (g *maker) indirect(to *node) {
	w := g.level(12, 60)
	catch := g.fixture(kindOf(pick(g, "floor_drain", "sink", "mop_sink", "other")), to.at+w.fall())
	g.drain(catch.id, to, w, catch.dn)
	for range pick(g, 1, 1, 2) {
		s := kindOf(pick(g, "dishwasher", "sink", "bar_sink", "drinking_fountain", "clothes_washer", "shower"))
		over := &node{id: catch.id, at: catch.rim, stated: true}
		w := g.level(6, 60)
		f := g.fixture(s, over.at+w.fall())
		g.lists[fixtures][len(g.lists[fixtures])-1].must("indirect_waste", true)
		g.drain(f.id, over, w, f.dn)
	}
}
