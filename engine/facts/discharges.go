package facts

import (
	"slices"

	"backpitch/engine/hydraulics"
	"backpitch/engine/network"
)

// discharges writes one fact for each pumped line, from its pump to the drain
// that receives it, and one for each of its valves. A pipe that several pumps
// share is part of the line of each; its valves are listed with the first.
func (v *derivation) discharges() {
	stackway, fixtureway := v.distances()
	listed := map[string]bool{}
	shared := v.sharedPipes()
	for _, i := range v.pumpsByLine() {
		x := &v.pumps[i]
		o := Discharge{
			ID: v.pipes[x.line[0]].p.ID, PumpID: x.p.ID, PumpKind: x.p.Kind, Pipes: []string{}, Devices: []string{},
			BuildingUse: v.d.Building.Use, DwellingUnits: count(v.d.Building.DwellingUnits),
			HighPoint: toMillionths(x.high), Rate: copied(x.rate[expected]), RateLow: copied(x.rate[lowEnd]), RateHigh: copied(x.rate[highEnd]),
		}
		if x.basin != network.None {
			s := &v.nodes[x.basin].sums
			o.BasinID, o.WaterClosets, o.Fixtures = v.n.Nodes[x.basin].ID, s.closets, s.fixtures
		}
		dn := v.smallest(x.line)
		o.DN, o.Size, o.Opening = some(dn), sizeKey(dn), v.diameter(dn)
		o.Velocity, o.GreatestVelocity = v.lineVelocity(x, x.rate[expected])
		o.VelocityLow, _ = v.lineVelocity(x, x.rate[lowEnd])
		o.VelocityHigh, _ = v.lineVelocity(x, x.rate[highEnd])
		if back, held := v.drainBack(x); back != nil {
			o.DrainBack = toFixed(*back, volumeScale)
			if held != nil {
				o.HeldVolume = toFixed(*held, volumeScale)
			}
		}
		if rate := x.rate[expected]; rate != nil {
			if load, ok := v.t.PumpLoad(*rate); ok {
				o.PumpLoad = &load
			}
		}
		if rim := metres(v.d.Building.ManholeRim); rim != nil && x.high != nil {
			o.LoopHeight = toMillionths(sub(x.high, rim)) // backflow level: the cover of the next manhole (EN 12056-4, from memory)
		}
		v.linePipes(x, &o)
		v.lineDevices(x, &o, listed, shared)
		v.receiver(x, &o, stackway, fixtureway)
		v.recordDischarge(x, &o)
		v.facts.Discharges = append(v.facts.Discharges, o)
	}
}

// pumpsByLine gives the pumps that have a line, in order of its id.
func (v *derivation) pumpsByLine() []int {
	var order []int
	for i := range v.pumps {
		if len(v.pumps[i].line) > 0 {
			order = append(order, i)
		}
	}
	slices.SortFunc(order, func(a, b int) int {
		return compareText(v.pipes[v.pumps[a].line[0]].p.ID, v.pipes[v.pumps[b].line[0]].p.ID)
	})
	return order
}

// sharedPipes marks the pumped pipes that carry the flow of more than one pump.
func (v *derivation) sharedPipes() []bool {
	used, shared := make([]bool, len(v.pipes)), make([]bool, len(v.pipes))
	for i := range v.pumps {
		for _, e := range v.pumps[i].line {
			shared[e], used[e] = used[e], true
		}
	}
	return shared
}

// waterWeight is the pressure of a metre of water: 1000 kg/m3 by standard gravity.
const waterWeight = 1000 * hydraulics.Gravity

func (v *derivation) linePipes(x *pump, o *Discharge) {
	length, allMaterials := int64(0), true
	o.RatingStated = true
	for _, e := range x.line {
		q := &v.pipes[e]
		o.Pipes = append(o.Pipes, q.p.ID)
		length = plus(length, q.length)
		if m := q.p.Material; m == "" {
			allMaterials = false
		} else if !slices.Contains(o.Materials, m) {
			o.Materials = append(o.Materials, m)
		}
		if r := fixed(q.p.Rating.Value); r == nil {
			o.RatingStated = false
		} else if o.LeastRating == nil || *r < *o.LeastRating {
			o.LeastRating = r
		}
	}
	o.Length = micrometres(length)
	if !allMaterials {
		o.Materials = nil
	}
	if x.shutOff != nil {
		o.PumpPressure = toFixed(float64(*x.shutOff)/lengthScale*waterWeight, 1)
	}
	if o.RatingStated && o.LeastRating != nil && o.PumpPressure != nil {
		o.Rated = ptr(*o.LeastRating >= *o.PumpPressure)
	}
}

func (v *derivation) lineDevices(x *pump, o *Discharge, listed map[string]bool, shared []bool) {
	check, shutoff, valves := 0, 0, int64(0) // places from 1
	for _, e := range x.line {
		p := v.pipes[e].p
		for k := range p.Devices {
			d := &p.Devices[k]
			o.Devices = append(o.Devices, d.Kind)
			switch d.Kind {
			case "check_valve":
				if check == 0 {
					check = len(o.Devices)
				}
				o.OwnCheck = o.OwnCheck || !shared[e]
			case "full_open_valve", "shutoff_valve":
				if shutoff == 0 {
					shutoff = len(o.Devices)
				}
			default:
				continue
			}
			valves++
			if listed[d.ID] {
				continue
			}
			listed[d.ID] = true
			v.facts.Valves = append(v.facts.Valves, Valve{
				ID: d.ID, Kind: d.Kind, Style: d.Style, Place: d.Place, Accessible: copied(d.Access), DischargeID: o.ID, Order: valves,
			})
		}
	}
	o.CheckValve, o.Shutoff = check > 0, shutoff > 0
	if o.CheckValve && o.Shutoff {
		o.InOrder = ptr(check < shutoff)
	}
}

// receiver describes the drain that takes the line: the connection it ends at,
// or the drain that leaves the junction it ends at. A line that ends at
// another basin has none.
func (v *derivation) receiver(x *pump, o *Discharge, stackway, fixtureway []int64) {
	n := &v.n.Nodes[x.end]
	switch n.Kind {
	case network.Connection:
		c := &v.d.Connections[n.Item]
		dn := c.Size.Fixed()
		o.ReceiverID, o.ReceiverKind, o.ReceiverLie = c.ID, c.Kind, connectionLie(c)
		o.ReceiverSize, o.ReceiverDN, o.ReceiverDiameter = sizeKey(dn), some(dn), v.diameter(dn)
		o.ReceiverSlope, o.ReceiverIntervals = fixed(c.Slope.Value), count(c.Intervals)
		total := v.connectionLoads(x.end)
		o.TotalLoadLow, o.TotalLoad, o.TotalLoadHigh = total[lowEnd], total[expected], total[highEnd]
		o.Fitting, o.Entry = c.Fitting, c.Entry
		o.FromStackBase, o.FromFixture = fixed(c.FromStackBase.Value), fixed(c.FromFixture.Value)
	case network.Junction:
		out := v.outDrain(x.end)
		o.ReceiverID, o.Fitting, o.Entry = n.ID, v.d.Junctions[n.Item].Fitting, v.d.Junctions[n.Item].Entry
		if out == nil {
			return
		}
		o.ReceiverKind, o.ReceiverLie = out.role, out.lie
		o.ReceiverSize, o.ReceiverDN, o.ReceiverDiameter = sizeKey(out.dn), some(out.dn), v.diameter(out.dn)
		o.ReceiverSlope, o.ReceiverIntervals = toMillionths(out.slope), count(out.p.Intervals)
		total := out.sums.totals()
		o.TotalLoadLow, o.TotalLoad, o.TotalLoadHigh = total[lowEnd], total[expected], total[highEnd]
		o.NoStack, o.NoFixtureDrain = stackway[x.end] == nowhere, fixtureway[x.end] == nowhere
		o.FromStackBase, o.FromFixture = micrometres(stackway[x.end]), micrometres(fixtureway[x.end])
	}
}

// nowhere marks a distance to something that does not stand upstream.
const nowhere = int64(-2)

// distances gives for every node the developed length from the base of the
// nearest stack upstream, and from the nearest fixture drain upstream, along
// horizontal drains: nowhere where there is none, unknown where a length is
// not stated.
func (v *derivation) distances() (stackway, fixtureway []int64) {
	stackway, fixtureway = make([]int64, len(v.n.Nodes)), make([]int64, len(v.n.Nodes))
	for i := range stackway {
		stackway[i], fixtureway[i] = nowhere, nowhere
	}
	for _, at := range v.n.Order() {
		q := v.outDrain(at)
		if q == nil {
			continue
		}
		to := q.edge.To
		if q.role == fixtureDrain {
			fixtureway[to] = nearer(fixtureway[to], 0)
		} else if !q.standing() {
			fixtureway[to] = nearer(fixtureway[to], along(fixtureway[at], q.length))
		}
		if q.standing() && q.role == stack {
			if next := v.outDrain(to); next == nil || !next.standing() {
				stackway[to] = nearer(stackway[to], 0)
			}
			continue
		}
		stackway[to] = nearer(stackway[to], along(stackway[at], q.length))
	}
	return stackway, fixtureway
}

func along(distance, length int64) int64 {
	if distance == nowhere {
		return nowhere
	}
	return plus(distance, length)
}

// nearer is the lesser distance; unknown wins over a known one, for it may be less.
func nearer(a, b int64) int64 {
	switch {
	case a == nowhere:
		return b
	case b == nowhere:
		return a
	case a == 0 || b == 0:
		return 0
	case a == unknown || b == unknown:
		return unknown
	}
	return min(a, b)
}
