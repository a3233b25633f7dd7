package facts

import (
	"backpitch/engine/design"
	"backpitch/engine/network"
)

// pump is what is known of one pump and its line.
type pump struct {
	p     *design.Pump
	node  int   // None where another element has its id
	basin int   // node, or None
	line  []int // pumped pipes in order of flow
	end   int   // node where the line ends, or None

	high   *rat // highest known invert of the line, nil where the outlet's is not known
	stop   *rat // elevation of its stop level
	static *rat

	rate       spread
	rateBasis  string
	method     string // of friction
	head       *int64
	shutOff    *int64
	cannot     *bool
	beyond     *bool
	mayNotLift *bool
	mayExceed  *bool
}

func (v *derivation) readPumps() {
	v.pumps = make([]pump, len(v.d.Pumps))
	for i := range v.d.Pumps {
		x := &v.pumps[i]
		x.p, x.node, x.basin, x.end = &v.d.Pumps[i], network.None, network.None, network.None
		n, ok := v.n.Node(x.p.ID)
		if !ok || v.n.Nodes[n].Kind != network.Pump || v.n.Nodes[n].Item != i {
			continue
		}
		x.node = n
		if l := v.n.Nodes[n].Lift; l != network.None {
			x.basin = v.n.Edges[l].From
		}
		v.followLine(x)
		v.heads(x)
		v.operate(x)
	}
	v.operateTogether()
}

// followLine lists the pumped pipes from a pump to where they enter a drain.
func (v *derivation) followLine(x *pump) {
	at := x.node
	for {
		e := v.n.Nodes[at].Outlet
		if e == network.None || !v.pipes[e].isPumped() {
			break
		}
		x.line = append(x.line, e)
		at = v.pipes[e].edge.To
	}
	if len(x.line) > 0 {
		x.end = at
	}
}

// heads finds the static lift: from the stop level of the basin to the highest
// invert of the line (common practice: the lift is greatest when the pump is
// about to stop, and beyond a summit the line may run by gravity). A summit
// that the design does not state is not seen. Where the outlet's own invert is
// not known, neither is the lift.
func (v *derivation) heads(x *pump) {
	if len(x.line) > 0 {
		last := &v.pipes[x.line[len(x.line)-1]]
		outlet := last.to
		if outlet == nil {
			outlet = v.nodes[x.end].invert
		}
		if outlet != nil {
			x.high = outlet
			for _, e := range x.line {
				q := &v.pipes[e]
				x.high = higher(x.high, q.from)
				x.high = higher(x.high, q.to)
				if j := v.junction(q.edge.To); j != nil {
					x.high = higher(x.high, metres(j.Invert))
				}
			}
		}
	}
	if x.basin != network.None {
		b := &v.d.Basins[v.n.Nodes[x.basin].Item]
		if floor := metres(b.Floor); floor != nil && b.Levels != nil {
			if stop := metres(b.Levels.Stop); stop != nil {
				x.stop = add(floor, stop)
			}
		}
	}
	if x.high != nil && x.stop != nil {
		x.static = sub(x.high, x.stop)
	}
}

// smallest is the least nominal size of a line, 0 where one is not stated.
func (v *derivation) smallest(line []int) int64 {
	var dn int64
	for _, e := range line {
		switch d := v.pipes[e].dn; {
		case d == 0:
			return 0
		case dn == 0 || d < dn:
			dn = d
		}
	}
	return dn
}

func (v *derivation) pumpFacts() {
	supply := map[string]*design.Electrical{}
	for i := range v.d.Electrical {
		e := &v.d.Electrical[i]
		if first := supply[e.Pump]; first == nil || e.ID < first.ID {
			supply[e.Pump] = e
		}
	}
	for i := range v.pumps {
		x := &v.pumps[i]
		if x.node == network.None {
			continue
		}
		p := x.p
		o := Pump{
			ID: p.ID, BasinID: p.Basin, Kind: p.Kind, Solids: fixed(p.Solids.Value), OutletDN: fixed(p.Outlet.Value),
			Rate: copied(x.rate[expected]), RateLow: copied(x.rate[lowEnd]), RateHigh: copied(x.rate[highEnd]),
			MayNotLift: copied(x.mayNotLift), MayExceed: copied(x.mayExceed), Friction: x.method, RateBasis: x.rateBasis, Head: copied(x.head), StaticHead: toMillionths(x.static),
			ShutOffHead: copied(x.shutOff), CannotLift: copied(x.cannot), BeyondCurve: copied(x.beyond),
			Cord: fixed(p.Cord.Value), BuildingUse: v.d.Building.Use, DwellingUnits: count(v.d.Building.DwellingUnits),
		}
		if p.MaxStarts != nil {
			o.MaxStarts = toFixed(*p.MaxStarts, 1000)
		}
		if len(x.line) > 0 {
			dn := v.smallest(x.line)
			o.DischargeID, o.DischargeDN, o.DischargeSize = v.pipes[x.line[0]].p.ID, some(dn), sizeKey(dn)
		}
		if e := supply[p.ID]; e != nil {
			o.Receptacle = fixed(e.Receptacle.Value)
		}
		v.reliefHole(x, &o)
		v.pumpBasin(x, &o)
		v.facts.Pumps = append(v.facts.Pumps, o)
	}
}

// reliefHole looks for the hole that lets trapped air out: it stands between
// the pump and its check valve (common practice), so one after the check
// valve does not count.
func (v *derivation) reliefHole(x *pump, o *Pump) {
	for _, e := range x.line {
		devices := v.pipes[e].p.Devices
		for i := range devices {
			switch d := &devices[i]; d.Kind {
			case "check_valve":
				o.HasCheck = true
				return
			case "relief_hole":
				o.HasRelief = true
				if o.ReliefHole == nil {
					o.ReliefHole = fixed(d.HoleSize.Value)
				}
			}
		}
	}
}

// pumpBasin repeats what the pump's basin knows.
func (v *derivation) pumpBasin(x *pump, o *Pump) {
	if x.basin == network.None {
		return
	}
	n := &v.n.Nodes[x.basin]
	s := &v.nodes[x.basin].sums
	o.WaterClosets, o.Urinals, o.Fixtures = s.closets, s.urinals, s.fixtures
	o.PumpsInBasin = int64(len(n.Lifts))
	b := &v.d.Basins[n.Item]
	if b.Alarm != nil {
		o.AlarmStated, o.AlarmKind, o.AlarmOwn = true, b.Alarm.Kind, copied(b.Alarm.OwnCircuit)
	}
	o.Inflow = v.peakFlow(s)[expected]
	v.cycle(x, b, o)
}
