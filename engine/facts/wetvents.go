package facts

import (
	"slices"

	"backpitch/engine/network"
)

// wetVents lists the drains that vent other fixtures while they drain some:
// for a wet-vented fixture the drains from the dry vent down to where it
// joins; and every drain that states circuit or combination venting. One that
// does both is listed for each, so that the rules of both kinds speak of it.
// A drain names the fixtures whose drains join at its lower end; one at whose
// end none joins names those of the next wet vent of its kind below, for which
// it brings the air.
func (v *derivation) wetVents() {
	joins := map[string][][]string{wet: make([][]string, len(v.pipes)), circuit: make([][]string, len(v.pipes))} // by drain that vents them
	joins[combination] = joins[circuit]                                                                          // a drain is of one line only
	wets := make([]bool, len(v.pipes))
	atEnd := make([]int64, len(v.pipes))    // fixtures that join where their circuit line ends
	first := make([]string, len(v.n.Nodes)) // by node with a dry vent: kind of fixture it is the vent of
	for _, i := range v.fixturesByID() {
		x := &v.fixtures[i]
		a, method := v.armOf(x)
		switch method {
		case individual, common, airAdmittance:
			if first[a.node] == "" {
				first[a.node] = x.f.Kind
			}
		case circuit, combination:
			joins[method][a.via] = append(joins[method][a.via], x.f.ID)
			if a.via != a.last && a.via != v.n.Nodes[a.node].Outlet {
				atEnd[a.via]++
			}
		case wet:
			joins[wet][a.via] = append(joins[wet][a.via], x.f.ID)
			for e := a.via; e != network.None && !wets[e]; e = v.air[e].in {
				wets[e] = true
			}
		}
	}
	order := v.n.Order()
	for i := len(order) - 1; i >= 0; i-- {
		e := v.n.Nodes[order[i]].Outlet
		if e == network.None || !v.pipes[e].isDrain() {
			continue
		}
		q := &v.pipes[e]
		next := v.n.Nodes[q.edge.To].Outlet
		if ventsSo(q) {
			goesOn := next != network.None && v.lineOf[next] == v.lineOf[e]
			o := v.wetVent(e, q.p.Venting, joins[q.p.Venting], first, goesOn)
			o.OnLine += atEnd[e]
			v.facts.WetVents = append(v.facts.WetVents, o)
		}
		if wets[e] {
			v.facts.WetVents = append(v.facts.WetVents, v.wetVent(e, wet, joins[wet], first, next != network.None && wets[next]))
		}
	}
}

// wetVent makes one fact; goesOn says that the drain below is of its kind.
func (v *derivation) wetVent(e int, kind string, joins [][]string, first []string, goesOn bool) WetVent {
	q := &v.pipes[e]
	if len(joins[e]) == 0 && goesOn {
		joins[e] = joins[v.n.Nodes[q.edge.To].Outlet]
	}
	o := WetVent{
		ID: q.p.ID, Kind: kind, Size: sizeKey(q.dn), DN: some(q.dn), Load: q.sums.total(), Lie: q.lie,
		FixtureKinds: v.kindNames(q.sums.kinds), Fixtures: q.sums.fixtures, ClosetsAbove: q.sums.closets,
		OnLine: q.sums.fixtures, VentedFixture: append([]string{}, joins[e]...),
	}
	o.VentedKinds = v.kindsOf(o.VentedFixture)
	if vent := v.air[e].vent; vent != network.None {
		o.FirstVented = first[vent]
	}
	return o
}

// kindsOf lists the kinds of fixtures. An emergency floor drain is a kind of
// its own, for a bathroom group may have one and no other floor drain (model
// codes, from memory).
func (v *derivation) kindsOf(ids []string) []string {
	kinds := []string{}
	for _, id := range ids {
		n, _ := v.n.Node(id)
		f := &v.d.Fixtures[v.n.Nodes[n].Item]
		kind := f.Kind
		if kind == "floor_drain" && is(f.Emergency) {
			kind = "emergency_floor_drain"
		}
		kinds = append(kinds, kind)
	}
	slices.Sort(kinds)
	return slices.Compact(kinds)
}

// fixturesByID gives the fixtures in order of id.
func (v *derivation) fixturesByID() []int {
	order := make([]int, 0, len(v.fixtures))
	for i := range v.fixtures {
		if v.fixtures[i].node != network.None {
			order = append(order, i)
		}
	}
	slices.SortFunc(order, func(a, b int) int { return compareText(v.fixtures[a].f.ID, v.fixtures[b].f.ID) })
	return order
}
