package facts

import (
	"backpitch/engine/design"
	"backpitch/engine/network"
)

func (v *derivation) project() {
	p := &v.facts.Project
	p.ID, p.Name = "project", v.d.Project.Name
	p.HasBasin = len(v.d.Basins) > 0
	for i := range v.d.Pipes {
		p.HasPumped = p.HasPumped || v.d.Pipes[i].Service == "pumped"
		p.HasBuried = p.HasBuried || is(v.d.Pipes[i].Buried)
	}
}

// building counts over the whole design.
func (v *derivation) building() {
	d := &v.d.Building
	b := &v.facts.Building
	*b = Building{
		ID: "building", Use: d.Use, FixtureUse: d.Occupancy, DwellingUnits: count(d.DwellingUnits), Storeys: count(d.Storeys), Existing: copied(d.Existing),
		Fixtures: int64(len(v.d.Fixtures)), Basins: int64(len(v.d.Basins)), ManholeRimStated: !d.ManholeRim.IsZero(),
	}
	if d.WaterClosets != nil {
		b.WaterClosets = int64(*d.WaterClosets)
	}
	switch d.DesignTemp {
	case "yes":
		b.FrostClosure = ptr(true)
	case "no":
		b.FrostClosure = ptr(false)
	}
	v.fallsToSewer()
	v.countFixtures(b)
	for i := range v.n.Nodes {
		n := &v.n.Nodes[i]
		if n.Kind == network.Terminal && v.endAt[i].kind == "open_air" && len(n.VentIn) > 0 && v.serves[i].drains {
			b.OpenAirVents++
		}
		if n.Kind == network.Connection && is(v.d.Connections[n.Item].Backwater) {
			b.BackwaterValves++
		}
	}
	for i := range v.pipes {
		q := &v.pipes[i]
		if !q.isDrain() {
			continue
		}
		for k := range q.p.Devices {
			if q.p.Devices[k].Kind == "backwater_valve" {
				b.BackwaterValves++
			}
		}
	}
}

// countFixtures: a count of fixtures below the manhole, or that cannot fall,
// is absent where it is not known of one of them.
func (v *derivation) countFixtures(b *Building) {
	var below, cannot int64
	belowKnown, cannotKnown := b.ManholeRimStated, true
	for i := range v.fixtures {
		x := &v.fixtures[i]
		if x.f.Kind == "water_closet" {
			b.WaterClosets++
		}
		if x.node == network.None {
			continue
		}
		to := v.endOf[x.node]
		if to.basin == network.None {
			switch g := v.gravity[i]; {
			case g.could() == nil:
				cannotKnown = false
			case !*g.could():
				cannot++
			}
		}
		if to.basin != network.None || to.connection == network.None {
			continue
		}
		b.FixturesOnGravity++
		switch low := v.belowManhole(x.f); {
		case low == nil:
			belowKnown = false
		case *low:
			below++
		}
	}
	if belowKnown {
		b.BelowManhole = &below
	}
	if cannotKnown {
		b.CannotFall = &cannot
	}
}

// belowManhole: the floor of the fixture lies below the cover of the next
// upstream manhole, so that the sewer can flood it (model codes, from memory;
// some go by the flood-level rim, which lies above the floor: the floor is the
// careful choice).
func (v *derivation) belowManhole(f *design.Fixture) *bool {
	floor, rim := metres(f.Floor), metres(v.d.Building.ManholeRim)
	if floor == nil || rim == nil {
		return nil
	}
	return ptr(floor.Cmp(rim) < 0)
}

// backwater lists the backwater valves and the fixtures above the manhole
// cover that drain through them.
func (v *derivation) backwater() {
	left := mostListed
	for i := range v.pipes {
		q := &v.pipes[i]
		if !q.isDrain() {
			continue
		}
		for k := range q.p.Devices {
			d := &q.p.Devices[k]
			if d.Kind != "backwater_valve" {
				continue
			}
			o := BackwaterValve{ID: d.ID, PipeID: q.p.ID, Accessible: copied(d.Access)}
			if s := &q.sums; s.aboveUnknown == 0 {
				o.AboveServed = ptr(s.above)
				if s.above > 0 && s.above <= left {
					o.Above = v.fixturesAbove(q.edge.From)
					left -= s.above
				}
			}
			v.facts.Backwater = append(v.facts.Backwater, o)
		}
	}
}

// mostListed bounds the fixtures named at backwater valves all together; the
// count is given whatever the list.
const mostListed = int64(100_000)

// fixturesAbove lists the fixtures above the manhole cover that drain to a node.
func (v *derivation) fixturesAbove(node int) []string {
	var ids []string
	seen := map[int]bool{}
	stack := []int{node}
	for len(stack) > 0 {
		at := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if seen[at] {
			continue
		}
		seen[at] = true
		n := &v.n.Nodes[at]
		if n.Kind == network.Fixture {
			if low := v.belowManhole(&v.d.Fixtures[n.Item]); low != nil && !*low {
				ids = append(ids, n.ID)
			}
		}
		for _, list := range [2][]int{n.DrainIn, n.PumpedIn} {
			for _, e := range list {
				stack = append(stack, v.pipes[e].edge.From)
			}
		}
		if n.Lift != network.None {
			stack = append(stack, v.n.Edges[n.Lift].From)
		}
	}
	sortByID(ids, func(s *string) string { return *s })
	return ids
}
