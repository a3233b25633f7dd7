package facts

import (
	"math"

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
			BuildingUse: v.d.Building.Use, DwellingUnits: count(v.d.Building.DwellingUnits), Inflow: v.peakFlow(s),
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
		v.basinRates(n, &o)
		v.basinVolumes(b, n.Item, &o)
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

// basinRates: the rate of all pumps together is the sum of their rates alone,
// an upper bound where they share a line.
func (v *derivation) basinRates(n *network.Node, o *Basin) {
	var largest, total int64
	for _, l := range n.Lifts {
		r := v.pumps[v.n.Nodes[v.n.Edges[l].To].Item].rate
		if r == nil {
			return
		}
		largest, total = max(largest, *r), total+*r
	}
	if len(n.Lifts) > 0 {
		o.PumpRate, o.TotalRate = &largest, &total
	}
}

// basinVolumes: drawdown between start and stop, reserve between alarm and
// inlet, storage between the highest start and the inlet, and how long drawdown
// and reserve take to gather at the mean inflow.
func (v *derivation) basinVolumes(b *design.Basin, item int, o *Basin) {
	if volume, ok := drawdown(b); ok {
		o.Drawdown, o.HoldTime = toFixed(volume, volumeScale), v.timeToGather(volume)
	}
	if b.Levels != nil {
		inlet := v.inletHeight(item)
		if volume, ok := between(b, metres(b.Levels.Alarm), inlet); ok {
			o.Reserve, o.ReserveTime = toFixed(volume, volumeScale), v.timeToGather(volume)
		}
		if volume, ok := between(b, highestStart(b), inlet); ok {
			o.StorageAbove = toFixed(volume, volumeScale)
		}
	}
	o.Flotation = flotation(b)
}

// timeToGather is how long the mean inflow takes to bring a volume, nil where
// it is not stated.
func (v *derivation) timeToGather(volume float64) *int64 {
	inflow := v.d.Building.Inflow.SI()
	if inflow <= 0 {
		return nil
	}
	t, err := hydraulics.Retention(volume, inflow)
	if err != nil {
		return nil
	}
	return toFixed(t, durationScale)
}

// Unit weights, N/m3, where the design states none: soil of 100 lb/ft3 moist
// and 125 lb/ft3 soaked (common practice, from memory).
const (
	soilMoist  = 100 * hydraulics.UnitWeightWater / 62.4
	soilSoaked = 125 * hydraulics.UnitWeightWater / 62.4
)

// flotation is the weight that holds an empty basin down over its uplift. The
// outside diameter, and for a rectangle the plan, is taken for the outside;
// the basin reaches from its floor to its cover, its thickness neglected.
// Absent where ground water stays below it, or is not stated.
func flotation(b *design.Basin) *int64 {
	depth, grade, floor, water := b.Depth.SI(), metres(b.Grade), metres(b.Floor), metres(b.GroundWater)
	if depth <= 0 || grade == nil || floor == nil || water == nil || b.Weight.IsZero() {
		return nil
	}
	area := 0.0
	switch d := b.Outside.SI(); {
	case d > 0:
		area = math.Pi * d * d / 4
	case b.PlanLength.SI() > 0:
		area = b.PlanLength.SI() * b.PlanWidth.SI()
	case b.Diameter.SI() > 0:
		area = math.Pi * b.Diameter.SI() * b.Diameter.SI() / 4
	}
	below, _ := sub(grade, floor).Float64() // of the base
	wet, _ := sub(grade, water).Float64()
	x := hydraulics.Buried{
		BasinArea: area, BasinHeight: depth, BasinWeight: (b.Weight.SI() + b.Ballast.SI()) * hydraulics.Gravity,
		Cover: math.Max(0, below-depth), Water: hydraulics.UnitWeightWater, Concrete: hydraulics.UnitWeightConcrete,
		SoilMoist: soilMoist, SoilSoaked: soilSoaked, GroundWater: math.Max(0, wet),
	}
	if s := b.Slab; s != nil {
		x.SlabArea, x.SlabHeight = math.Pi*s.Diameter.SI()*s.Diameter.SI()/4, s.Thickness.SI()
		for _, w := range []struct {
			stated design.Density
			into   *float64
		}{{s.Density, &x.Concrete}, {s.SoilMoist, &x.SoilMoist}, {s.SoilSat, &x.SoilSoaked}} {
			if !w.stated.IsZero() {
				*w.into = w.stated.SI() * hydraulics.Gravity
			}
		}
	}
	u, err := x.Balance()
	if err != nil || !u.Submerged {
		return nil
	}
	return toFixed(u.Factor, factorScale)
}
