package random

// sort is what is usual of a kind of fixture. Heights are inches over the
// floor: of the trap weir and of the flood-level rim (common practice).
type sort struct {
	kind      string
	trap      string
	size      []int
	weir, rim int
	uses      int // how often the kind is drawn
}

var sorts = []sort{
	{"water_closet", "integral", []int{80, 100}, 10, 15, 14},
	{"lavatory", "p_trap", []int{32, 40}, 18, 31, 12},
	{"shower", "p_trap", []int{40, 50}, -6, 2, 7},
	{"bathtub", "p_trap", []int{40, 50}, -6, 16, 5},
	{"bidet", "p_trap", []int{32, 40}, 4, 15, 2},
	{"urinal", "p_trap", []int{40, 50}, 18, 24, 5},
	{"kitchen_sink", "p_trap", []int{40, 50}, 16, 36, 6},
	{"bar_sink", "p_trap", []int{40}, 16, 36, 2},
	{"laundry_tray", "p_trap", []int{40, 50}, 14, 34, 3},
	{"clothes_washer", "p_trap", []int{50}, 8, 38, 5},
	{"dishwasher", "p_trap", []int{40}, 6, 30, 3},
	{"floor_drain", "p_trap", []int{50, 80}, -7, 0, 9},
	{"service_sink", "p_trap", []int{50, 80}, 14, 28, 3},
	{"mop_sink", "p_trap", []int{80}, -6, 10, 3},
	{"drinking_fountain", "p_trap", []int{32}, 24, 38, 2},
	{"sink", "p_trap", []int{40, 50}, 16, 36, 8},
	{"other", "p_trap", []int{50}, 10, 20, 4},
}

// kind draws a kind of fixture by how often it stands in buildings.
func (g *maker) kind() sort {
	all := 0
	for _, s := range sorts {
		all += s.uses
	}
	n := g.IntN(all)
	for _, s := range sorts {
		if n -= s.uses; n < 0 {
			return s
		}
	}
	panic("random: no kind")
}

func kindOf(word string) sort {
	for _, s := range sorts {
		if s.kind == word {
			return s
		}
	}
	panic("random: no kind " + word)
}

// placed is a fixture as its drain needs to know it.
type placed struct {
	id  string
	rim int64 // elevation
	dn  int   // of its trap
}

// fixture adds a fixture whose drain begins at an elevation.
func (g *maker) fixture(s sort, at int64) placed {
	id := g.name(s.kind)
	e := g.add(fixtures, id).must("kind", s.kind)
	e.may("use", pick(g, "private", "private", "public", "heavy"))
	g.flush(e, s)
	switch s.kind {
	case "shower":
		e.may("flow", g.flow(pick(g, 15, 20, 25, 50, 80)))
	case "other":
		if g.chance(50) {
			e.may("flow", g.flow(pick(g, 5, 20, 75, 150)))
		} else {
			e.may("load", g.load(pick(g, 5, 10, 20, 35)))
		}
	case "floor_drain":
		e.rarely(40, "emergency", g.chance(60))
	}
	dn := pick(g, s.size...)
	weir := g.onGrid(at)
	if !g.usual() {
		weir += pick[int64](g, -1, 1) * g.length(0, 14)
	}
	floor := weir - int64(s.weir)*inch
	rim := floor + int64(s.rim)*inch
	if !g.usual() {
		rim += g.around(24)
	}
	e.may("trap", g.trap(s, dn, weir))
	e.may("flood_rim", g.text(rim)).may("floor", g.text(floor))
	storey := 0
	if floor > 0 {
		storey = int(floor / g.storeyHeight)
	}
	e.may("storey", storey)
	e.rarely(15, "interceptor", pick(g, "solids", "grease", "sand", "none"))
	e.rarely(8, "label", pick(g, "by the wheel", "glaze sink", "Tonbecken"))
	return placed{id, rim, dn}
}

func (g *maker) flush(e *element, s sort) {
	switch s.kind {
	case "water_closet":
		e.may("flush_type", either(g, []string{"tank", "tank", "flushometer_tank", "flush_valve"}, "waterless"))
		e.may("flush_volume", pick(g, g.volume(128), g.volume(160), g.volume(161), g.volume(350), "4 L", "6 L", "7.5 L", "9 L"))
	case "urinal":
		e.may("flush_type", pick(g, "flush_valve", "tank", "waterless"))
		e.may("flush_volume", pick(g, g.volume(13), g.volume(50), g.volume(100), "0.5 L", "3 L"))
	}
}

func (g *maker) trap(s sort, dn int, weir int64) *element {
	t := g.object().must("type", either(g, []string{s.trap}, "p_trap", "integral", "s_trap", "bell", "drum", "crown_vented", "running", "none"))
	t.may("size", g.size(g.near(dn)))
	t.may("seal", either(g, []string{g.of("2 in", "50 mm"), g.of("3 in", "75 mm"), g.of("2-1/2 in", "60 mm"), g.of("4 in", "100 mm")},
		g.of("1-15/16 in", "49 mm"), g.of("1 in", "25 mm"), g.of("4-1/16 in", "101 mm"), g.of("6 in", "150 mm")))
	t.may("weir", g.text(weir))
	if s.kind == "clothes_washer" {
		t.may("outlet_drop", either(g, []string{"18 in", "30 in", "26 in", "42 in"}, "17-7/8 in", "4 ft 1 in", "12 in", "48 in"))
	} else {
		t.may("outlet_drop", either(g, []string{"0 in", "8 in", g.of("14 in", "360 mm"), "24 in"}, "24-1/16 in", "36 in"))
	}
	t.may("outlet_run", either(g, []string{"0 in", "4 in", g.of("6 in", "150 mm"), "24 in"}, "30 in", "30-1/16 in", "5 ft"))
	if s.kind == "floor_drain" || g.chance(5) {
		t.may("seal_protection", either(g, []string{"primer", "barrier", "regular_use"}, "none"))
	}
	return t
}

// group names the fixtures of a bathroom.
func (g *maker) group(ids []string) {
	g.add(groups, g.name("bathroom")).must("fixtures", ids)
}
