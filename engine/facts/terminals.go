package facts

import "backpitch/engine/network"

// terminals writes a fact for every vent end in the open air and for every air
// admittance valve.
func (v *derivation) terminals() {
	for i := range v.n.Nodes {
		n := &v.n.Nodes[i]
		if n.Kind != network.Terminal {
			continue
		}
		t := &v.d.Terminals[n.Item]
		if t.Kind == "air_admittance_valve" {
			v.airValve(i)
			continue
		}
		v.facts.Terminals = append(v.facts.Terminals, Terminal{
			ID: t.ID, Kind: t.Kind, Size: sizeKey(t.Size.Fixed()), DN: fixed(t.Size.Value),
			AboveRoof: fixed(t.AboveRoof.Value), RoofUsed: copied(t.RoofUsed),
			FromOpening: fixed(t.FromOpening.Value), AboveOpening: fixed(t.AboveOpening.Value), FromLotLine: fixed(t.FromLotLine.Value),
			Frost: copied(v.facts.Building.FrostClosure),
		})
	}
}

func (v *derivation) airValve(i int) {
	n, s := &v.n.Nodes[i], &v.serves[i]
	t := &v.d.Terminals[n.Item]
	o := AirAdmittanceValve{
		ID: t.ID, ValveType: t.ValveType, Size: sizeKey(t.Size.Fixed()), DN: fixed(t.Size.Value), Rating: fixed(t.Rating.Value),
		AboveDrain: fixed(t.AboveDrain.Value), Insulation: t.Insulation, AboveInsul: fixed(t.AboveInsul.Value),
		Accessible: copied(t.Access), AirCanEnter: copied(t.VentilatedAir), InPlenum: copied(t.InPlenum), Engineered: is(t.Engineered),
		ServesBasin: s.basin, Fixtures: s.fixtures, WaterClosets: s.closets,
	}
	if len(n.VentIn) > 0 {
		o.Length = micrometres(s.up)
	}
	level := metres(t.Elevation)
	for _, e := range n.VentIn {
		q := &v.pipes[e]
		if o.VentDN == nil || q.dn != 0 && q.dn < *o.VentDN {
			o.VentDN = some(q.dn)
		}
		if level == nil {
			level = q.to
		}
	}
	if s.unknown == 0 && (s.drains || s.fixtures > 0) {
		o.Load = ptr(max(0, s.load))
	}
	if s.rim != nil && !s.noRim && level != nil {
		o.AboveRim = toMillionths(sub(level, s.rim))
	}
	v.airValveDrain(i, level, &o)
	v.facts.AirValves = append(v.facts.AirValves, o)
}

// airValveDrain looks down the vents of a valve: where one vent line without
// branches leads to a drain, its height over that drain's invert stands in for
// a height that is not stated, and a stack gives its branch intervals.
func (v *derivation) airValveDrain(i int, level *rat, o *AirAdmittanceValve) {
	at := i
	for len(v.n.Nodes[at].VentIn) == 1 {
		at = v.pipes[v.n.Nodes[at].VentIn[0]].edge.From
	}
	out := v.outDrain(at)
	if at == i || len(v.n.Nodes[at].VentIn) > 0 || out == nil {
		return
	}
	if o.AboveDrain == nil && level != nil && v.nodes[at].invert != nil {
		o.AboveDrain = toMillionths(sub(level, v.nodes[at].invert))
	}
	if out.role == stack && out.standing() {
		o.Intervals = count(v.pipes[v.bases[v.n.Nodes[at].Outlet]].p.Intervals)
	}
}
