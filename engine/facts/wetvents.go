package facts

import (
	"slices"

	"backpitch/engine/network"
)

// wetVents lists the drains that vent other fixtures while they drain some:
// for a wet-vented fixture the drains from the dry vent down to where it
// joins; and every drain that states circuit or combination venting. A drain
// names the fixtures whose drains join at its lower end; one at whose end none
// joins names those of the next wet vent below, for which it brings the air.
func (v *derivation) wetVents() {
	joins := make([][]string, len(v.pipes)) // by drain that vents them
	kind := make([]string, len(v.pipes))
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
			joins[a.via] = append(joins[a.via], x.f.ID)
		case wet:
			joins[a.via] = append(joins[a.via], x.f.ID)
			for e := a.via; e != network.None && kind[e] == ""; e = v.air[e].in {
				kind[e] = wet
			}
		}
	}
	for i := range v.pipes {
		if q := &v.pipes[i]; q.isDrain() && ventsSo(q) {
			kind[i] = q.p.Venting
		}
	}
	order := v.n.Order()
	for i := len(order) - 1; i >= 0; i-- {
		e := v.n.Nodes[order[i]].Outlet
		if e == network.None || kind[e] == "" {
			continue
		}
		q := &v.pipes[e]
		if next := v.n.Nodes[q.edge.To].Outlet; len(joins[e]) == 0 && next != network.None && kind[next] == kind[e] {
			joins[e] = joins[next]
		}
		o := WetVent{
			ID: q.p.ID, Kind: kind[e], Size: sizeKey(q.dn), DN: some(q.dn), Load: q.sums.total(), Lie: q.lie,
			FixtureKinds: v.kindNames(q.sums.kinds), Fixtures: q.sums.fixtures, ClosetsAbove: q.sums.closets,
			VentedFixture: append([]string{}, joins[e]...),
		}
		if vent := v.air[e].vent; vent != network.None {
			o.FirstVented = first[vent]
		}
		v.facts.WetVents = append(v.facts.WetVents, o)
	}
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
