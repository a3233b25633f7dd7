package facts

import (
	"backpitch/engine/calcs"
	"backpitch/engine/design"
	"backpitch/engine/hydraulics"
	"backpitch/engine/network"
)

// inletElevation is the invert of a basin's inlet: stated as an elevation, or
// above the floor.
func (v *derivation) inletElevation(item int) *rat {
	b := &v.d.Basins[item]
	if b.Inlet == nil {
		return nil
	}
	if at := metres(b.Inlet.Invert); at != nil {
		return at
	}
	floor, height := metres(b.Floor), metres(b.Inlet.Height)
	if floor == nil || height == nil {
		return nil
	}
	return add(floor, height)
}

// inletHeight is the same above the floor.
func (v *derivation) inletHeight(item int) *rat {
	b := &v.d.Basins[item]
	if b.Inlet == nil {
		return nil
	}
	if height := metres(b.Inlet.Height); height != nil {
		return height
	}
	floor, at := metres(b.Floor), metres(b.Inlet.Invert)
	if floor == nil || at == nil {
		return nil
	}
	return sub(at, floor)
}

func (v *derivation) basins() {
	for i := range v.n.Nodes {
		n := &v.n.Nodes[i]
		if n.Kind != network.Basin {
			continue
		}
		b, s := &v.d.Basins[n.Item], &v.nodes[i].sums
		o := Basin{
			ID: b.ID, Shape: b.Shape, Diameter: clearWidth(b), Depth: fixed(b.Depth.Value), Accessible: copied(b.Access),
			Load: s.total(), Fixtures: s.fixtures, WaterClosets: s.closets, Urinals: s.urinals,
			CouldFall: v.couldFall(i), EngineeredVent: is(b.Engineered), Pumps: int64(len(n.Lifts)), Bedding: b.Bedding,
			BuildingUse: v.d.Building.Use, DwellingUnits: count(v.d.Building.DwellingUnits), Inflow: v.peakFlow(s)[expected],
		}
		if c := b.Cover; c != nil {
			o.GasTight, o.Fastened, o.Removable = copied(c.GasTight), copied(c.Fastened), copied(c.Removable)
		}
		if a := b.Alarm; a != nil {
			o.AlarmStated, o.AlarmKind, o.AlarmOwn = true, a.Kind, copied(a.OwnCircuit)
		}
		if b.Inlet != nil {
			o.InletDN = fixed(b.Inlet.Size.Value)
		}
		v.basinDrains(i, &o)
		v.basinLevels(b, n.Item, &o)
		v.basinVent(i, &o)
		v.basinRates(i, &o)
		v.recordDesignFlow(b.ID, s, "peak_inflow", v.peakFlow(s))
		v.basinVolumes(b, n.Item, &o)
		v.peak(b, n.Item, &o)
		v.flotation(b, &o)
		v.facts.Basins = append(v.facts.Basins, o)
	}
}

// clearWidth is the inside diameter, or the shorter side of a rectangle.
func clearWidth(b *design.Basin) *int64 {
	if d := fixed(b.Diameter.Value); d != nil && b.Shape != "rectangular" {
		return d
	}
	l, w := fixed(b.PlanLength.Value), fixed(b.PlanWidth.Value)
	if l == nil || w == nil {
		return nil
	}
	return ptr(min(*l, *w))
}

func (v *derivation) basinDrains(i int, o *Basin) {
	n := &v.n.Nodes[i]
	var lowest *rat
	allKnown := len(n.DrainIn) > 0
	for _, e := range n.DrainIn {
		q := &v.pipes[e]
		if q.to == nil {
			allKnown = false
		}
		lowest = lower(lowest, q.to)
		if q.dn != 0 && (o.LargestDrain == nil || q.dn > *o.LargestDrain) {
			o.LargestDrain, o.LargestDrainID = ptr(q.dn), q.p.ID
		}
	}
	for _, e := range n.DrainIn {
		if v.pipes[e].dn == 0 { // the largest cannot be known
			o.LargestDrain, o.LargestDrainID = nil, ""
		}
	}
	if inlet := v.inletElevation(n.Item); inlet != nil && allKnown {
		o.DrainHeight = toMillionths(sub(lowest, inlet))
	}
}

func (v *derivation) basinLevels(b *design.Basin, item int, o *Basin) {
	inlet := v.inletHeight(item)
	o.InletHeight = toMillionths(inlet)
	l := b.Levels
	if l == nil {
		return
	}
	o.StopLevel, o.StartLevel, o.AlarmLevel = fixed(l.Stop.Value), fixed(l.Start.Value), fixed(l.Alarm.Value)
	highest := highestStart(b)
	o.HighestStart = toMillionths(highest)
	if inlet != nil && highest != nil {
		o.BelowInlet = toMillionths(sub(inlet, highest))
	}
}

// highestStart is the highest working level: the second pump's start where
// there is one.
func highestStart(b *design.Basin) *rat {
	highest := metres(b.Levels.Start)
	if highest == nil {
		return nil
	}
	return higher(highest, metres(b.Levels.SecondStart))
}

// basinVent describes the vent that leaves a basin, to its end. Where several
// leave it, the one that counts as in ventEnds.
func (v *derivation) basinVent(i int, o *Basin) {
	n := &v.n.Nodes[i]
	if o.HasVent = len(n.VentOut) > 0; !o.HasVent {
		return
	}
	end := v.endAt[i]
	o.VentID, o.VentEndsAt = v.n.Edges[n.VentOut[end.first]].ID, end.kind
	o.VentLength = micrometres(end.length)
	least, known := int64(0), true
	for at := i; len(v.n.Nodes[at].VentOut) > 0; {
		q := &v.pipes[v.n.Nodes[at].VentOut[v.endAt[at].first]]
		o.VentJoined = o.VentJoined || v.serves[at].drains
		known = known && q.dn != 0
		if least == 0 || q.dn < least {
			least = q.dn
		}
		at = q.edge.To
	}
	if known {
		o.VentDN, o.VentSize = some(least), sizeKey(least)
	}
}

// basinRates: the largest rate of one pump, and all of them at once.
func (v *derivation) basinRates(node int, o *Basin) {
	n := &v.n.Nodes[node]
	var largest spread
	for _, l := range n.Lifts {
		r := v.pumps[v.n.Nodes[v.n.Edges[l].To].Item].rate
		if r[expected] == nil {
			return
		}
		if largest[expected] == nil || *r[expected] > *largest[expected] {
			largest = r
		}
	}
	o.PumpRateLow, o.PumpRate, o.PumpRateHigh = copied(largest[lowEnd]), copied(largest[expected]), copied(largest[highEnd])
	total := v.total[node]
	o.TotalRateLow, o.TotalRate, o.TotalRateHigh = copied(total[lowEnd]), copied(total[expected]), copied(total[highEnd])
}

// peak says whether one pump keeps up with the peak inflow and, where it does
// not, how soon the level reaches the inlet.
func (v *derivation) peak(b *design.Basin, item int, o *Basin) {
	if o.Inflow == nil || o.PumpRate == nil {
		return
	}
	o.KeepsUp = ptr(*o.PumpRate >= *o.Inflow)
	o.Excess, o.ExcessHigh = ptr(max(0, *o.Inflow-*o.PumpRate)), ptr(max(0, *o.Inflow-*o.PumpRateLow))
	if *o.Excess == 0 || b.Levels == nil {
		return
	}
	volume, ok := between(b, highestStart(b), v.inletHeight(item))
	if !ok {
		return
	}
	excess := float64(*o.Excess) / flowScale
	if t, err := hydraulics.Retention(volume, excess); err == nil {
		o.TimeToInlet = toFixed(t, durationScale)
		v.rec.Step(calcs.Raw{Formula: "time_to_inlet", Subject: b.ID, Fact: "time_to_inlet",
			Values: []float64{volume, float64(*o.Inflow) / flowScale, float64(*o.PumpRate) / flowScale}, Result: t})
	}
}
