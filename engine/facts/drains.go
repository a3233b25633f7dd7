package facts

import (
	"slices"

	"backpitch/engine/design"
	"backpitch/engine/network"
)

func (v *derivation) drains() {
	stackway, _ := v.distances()
	for i := range v.pipes {
		q := &v.pipes[i]
		if !q.isDrain() {
			continue
		}
		s := &q.sums
		o := Drain{
			ID: q.p.ID, From: q.p.From, To: q.p.To, Role: q.role, Lie: q.lie,
			Size: sizeKey(q.dn), DN: some(q.dn), Material: q.p.Material,
			Length: micrometres(q.length), Slope: toMillionths(q.slope), Fall: toMillionths(q.fall),
			InvertFrom: toMillionths(q.from), InvertTo: toMillionths(q.to),
			Load: s.total(), Fixtures: s.fixtures, WaterClosets: s.closets, GravityClosets: s.gravityClosets,
			FixtureKinds: v.kindNames(s.kinds), TrapArmOf: v.armPart[i],
			Buried: copied(q.p.Buried), Cover: fixed(q.p.Cover.Value), Intervals: count(q.p.Intervals),
			DeadEnd: v.deadEnd(q),
		}
		if s.only >= 0 && s.fixtures == 1 {
			o.OnlyFixture = v.n.Nodes[s.only].ID
		}
		v.largestInflow(q, &o)
		if to := v.n.Nodes[q.edge.To]; to.Kind == network.Basin {
			o.ToBasin = to.ID
			if inlet := v.inletElevation(to.Item); inlet != nil && q.to != nil {
				o.AboveInlet = toMillionths(sub(q.to, inlet))
			}
		}
		if b := v.endOf[q.edge.To].basin; b != network.None {
			o.BasinID = v.n.Nodes[b].ID
		}
		if s.unknownPumped == 0 {
			o.PumpedFlow = some(s.pumped[expected])
		}
		v.belowStack(q, stackway, &o)
		v.drainFlow(q, &o)
		v.facts.Drains = append(v.facts.Drains, o)
	}
}

// belowStack measures how far from the base of a stack a horizontal drain joins,
// as a branch, the horizontal drain below it. What runs through the body of the
// fitting joins nothing, and neither does a drain without a straight run to join.
func (v *derivation) belowStack(q *pipe, stackway []int64, o *Drain) {
	to := q.edge.To
	out := v.outDrain(to)
	if out == nil || out.lie != horizontal || q.lie != horizontal || v.n.Nodes[to].Kind != network.Junction {
		return
	}
	e := v.run(to, out)
	if e == network.None || &v.pipes[e] == q || v.pipes[e].standing() {
		return
	}
	far := along(stackway[v.pipes[e].edge.From], v.pipes[e].length)
	if far == nowhere {
		return
	}
	o.BelowStack, o.FromStackBase = true, micrometres(far)
	o.JoinedDiameter, o.JoinedLoad = v.diameter(out.dn), v.pipes[e].sums.total()
}

// deadEnd: nothing flows into the drain, and no cleanout stands at its upper
// end (a cleanout extension is no dead end in the model codes, from memory).
func (v *derivation) deadEnd(q *pipe) bool {
	n := &v.n.Nodes[q.edge.From]
	if n.Kind != network.Junction || q.sums.fixtures > 0 || q.sums.existing {
		return false
	}
	return len(n.DrainIn)+len(n.PumpedIn) == 0 && len(n.VentOut) == 0 && !v.cleanoutAtTop(q)
}

// largestInflow is the largest size that flows into the upper end: a pipe, or
// what the fixture there sends it. The kind is known where the size is not.
func (v *derivation) largestInflow(q *pipe, o *Drain) {
	n := &v.n.Nodes[q.edge.From]
	if n.Kind == network.Fixture {
		f := &v.d.Fixtures[n.Item]
		o.InflowKind = inflowKind(f)
		if f.Trap != nil && !f.Trap.Size.IsZero() {
			o.LargestInflow, o.LargestFrom = some(f.Trap.Size.Fixed()), f.ID
		}
		return
	}
	for _, list := range [2][]int{n.DrainIn, n.PumpedIn} {
		for _, e := range list {
			in := &v.pipes[e]
			if in.dn == 0 { // the largest cannot be known
				o.LargestInflow, o.LargestFrom, o.InflowKind = nil, "", ""
				return
			}
			if o.LargestInflow == nil || in.dn > *o.LargestInflow {
				o.LargestInflow, o.LargestFrom, o.InflowKind = ptr(in.dn), in.p.ID, "pipe"
			}
		}
	}
}

// inflowKind: a water closet's outlet is named so, since a closet bend may
// reduce it (model codes, from memory); a trap of its own is compared with its
// drain fixture by fixture; what is left is the outlet of another fixture.
func inflowKind(f *design.Fixture) string {
	switch {
	case f.Kind == "water_closet":
		return "closet_outlet"
	case is(f.Indirect) || f.Trap != nil && (f.Trap.Type == "none" || f.Trap.Type == "integral"):
		return "fixture_outlet"
	}
	return "trap"
}

func (v *derivation) joints() {
	for i := range v.pipes {
		q := &v.pipes[i]
		if q.p == nil || q.isVent() {
			continue
		}
		for k := range q.p.Joints {
			j := &q.p.Joints[k]
			materials := []string{}
			for _, m := range [2]string{q.p.Material, j.Joins} {
				if m != "" && !slices.Contains(materials, m) {
					materials = append(materials, m)
				}
			}
			o := Joint{ID: place(q.p.ID, "joint", k), Kind: j.Kind, Materials: materials, Buried: copied(q.p.Buried), Pumped: q.isPumped()}
			if q.isDrain() {
				o.Role = q.role
			}
			v.facts.Joints = append(v.facts.Joints, o)
		}
	}
}
