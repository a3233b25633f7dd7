package random

// odds adds now and then what no tidy drawing has, and a document may have all
// the same. main are the junctions of the tree that was drawn last, sink is
// where it ends.
func (g *maker) odds(sink *node, main []*node) {
	if !g.chance(25) {
		return
	}
	switch g.IntN(9) {
	case 0: // a fixture without a drain
		g.fixture(g.kind(), sink.at)
	case 1: // a fixture that drains to the end itself
		g.arm(sink, g.kind())
	case 2: // a second vent of the same place
		if len(g.airways) > 0 {
			g.pipe("vent", pick(g, main...).id, pick(g, g.airways...).id, 50, g.rise(g.length(40, 90)))
		}
	case 3: // a vent that ends where other drains meet, which all stand already
		if len(g.receivers) > 0 {
			if to := pick(g, g.receivers...); to.e != nil {
				g.pipe("vent", pick(g, main...).id, to.id, 50, g.rise(g.length(20, 90)))
			}
		}
	case 4: // two supplies of one pump, or a pump without a line
		if list := g.lists[pumps]; len(list) > 0 {
			g.add(supplies, g.name("supply")).must("pump", pick(g, list...).id()).may("receptacle_distance", g.text(g.length(24, 300))).no("dedicated_circuit")
		}
	case 5:
		if list := g.lists[basins]; len(list) > 0 {
			g.pump(pick(g, list...).id(), 1, 10*foot, g.pumpStyle())
		}
	case 6: // a group of fixtures that have nothing to do with each other
		var ids []string
		for _, f := range g.lists[fixtures] {
			if g.chance(20) && len(ids) < 6 {
				ids = append(ids, f.id())
			}
		}
		if len(ids) > 0 {
			g.group(ids)
		}
	case 7: // a junction and a terminal that nothing meets
		g.junction(sink.at, 80, allFittings...)
		g.terminal(80, true)
	case 8: // a basin that the next pumps may fill
		b := g.basin(g.name("sump"), sink.at, 80)
		g.lifts(b, b.at)
		g.receivers = append(g.receivers, receiver{id: b.id, at: b.at})
	}
}

func (e *element) id() string { return e.held[0].(string) }
