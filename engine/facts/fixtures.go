package facts

import (
	"slices"

	"backpitch/engine/design"
	"backpitch/engine/network"
	"backpitch/engine/quantity"
)

// fixture is what is known of one fixture before its facts are written.
type fixture struct {
	f     *design.Fixture
	node  int // None where another element has its id
	class string
	load  *int64
	kind  int // place in derivation.kinds

	loadFrom string // table, stated, trap or flow; "" where there is no load
}

// What a load comes from.
const (
	loadFromTable = "table"
	loadAsStated  = "stated"
	loadByTrap    = "trap"
	loadByFlow    = "flow"
)

// maxKinds is how many kinds a set can tell apart; the design schema has 17.
const maxKinds = 64

func (v *derivation) readFixtures() {
	v.fixtures = make([]fixture, len(v.d.Fixtures))
	for i := range v.d.Fixtures {
		v.kinds = append(v.kinds, v.d.Fixtures[i].Kind)
	}
	slices.Sort(v.kinds)
	v.kinds = slices.Compact(v.kinds)
	if len(v.kinds) > maxKinds {
		v.kinds = v.kinds[:maxKinds]
	}
	if i, ok := slices.BinarySearch(v.kinds, "water_closet"); ok {
		v.closets = 1 << i
	}
	for i := range v.d.Fixtures {
		f := &v.d.Fixtures[i]
		x := &v.fixtures[i]
		x.f, x.node = f, network.None
		if n, ok := v.n.Node(f.ID); ok && v.n.Nodes[n].Kind == network.Fixture && v.n.Nodes[n].Item == i {
			x.node = n
		}
		x.kind, _ = slices.BinarySearch(v.kinds, f.Kind)
		x.kind = min(x.kind, maxKinds-1)
		v.classify(x)
	}
}

// classify asks the profile for the class and load of a fixture. Where no row
// gives a load, the greater of the load that the design states and the
// profile's load by trap size serves, else its continuous flow as load by the
// conversion for pumped flow.
func (v *derivation) classify(x *fixture) {
	f := x.f
	q := FixtureQuery{
		Kind: f.Kind, Use: f.Use, FlushType: f.FlushType, Emergency: f.Emergency,
		Flush: fixed(f.Flush.Value), Flow: fixed(f.Flow.Value),
	}
	if f.Trap != nil {
		q.TrapDN = some(f.Trap.Size.Fixed())
	}
	row, _ := v.t.Fixture(q)
	x.class, x.load = row.Class, row.Load
	if x.load != nil {
		x.loadFrom = loadFromTable
	} else {
		x.load, x.loadFrom = v.statedLoad(f.Load), loadAsStated
		if q.TrapDN != nil {
			if load, ok := v.t.LoadByTrap(*q.TrapDN); ok && (x.load == nil || load > *x.load) {
				x.load, x.loadFrom = &load, loadByTrap
			}
		}
	}
	if flow := f.Flow.Fixed(); x.load == nil && f.Kind != "shower" && flow > 0 && v.t.CountsPumps() {
		if load, ok := v.t.PumpLoad(flow); ok {
			x.load, x.loadFrom = &load, loadByFlow
		}
	}
	if x.load != nil && (*x.load < 0 || *x.load > mostLoad) {
		x.load = nil
	}
	if x.load == nil {
		x.loadFrom = ""
	}
}

// statedLoad is a load in the unit that the profile counts in, nil in the
// other: fixture units and discharge units do not convert into each other.
func (v *derivation) statedLoad(l design.Load) *int64 {
	if (l.Kind() == quantity.Load) != v.t.CountsPumps() {
		return nil
	}
	return fixed(l.Value)
}

// kindNames lists the kinds in a set.
func (v *derivation) kindNames(set uint64) []string {
	names := []string{}
	for i, k := range v.kinds {
		if set&(1<<i) != 0 {
			names = append(names, k)
		}
	}
	return names
}

// fixtureFacts writes one fact for each fixture.
func (v *derivation) fixtureFacts() {
	for i := range v.fixtures {
		x := &v.fixtures[i]
		if x.node == network.None {
			continue
		}
		f := x.f
		o := Fixture{
			ID: f.ID, Kind: f.Kind, Use: f.Use, Class: x.class, Load: copied(x.load),
			LoadFrom: x.loadFrom, LoadStated: !f.Load.IsZero(), StatedLoad: v.statedLoad(f.Load),
			Flush: fixed(f.Flush.Value), Indirect: is(f.Indirect), Interceptor: f.Interceptor,
			FloodRim: toMillionths(metres(f.FloodRim)), Floor: toMillionths(metres(f.Floor)),
			BelowManhole: v.belowManhole(f), DrainsTo: "nothing",
		}
		if t := f.Trap; t != nil {
			o.TrapStated, o.TrapType, o.SealProtection = true, t.Type, t.Protection
			o.TrapSize, o.TrapDN = sizeKey(t.Size.Fixed()), some(t.Size.Fixed())
			o.TrapSeal, o.OutletDrop, o.OutletRun = fixed(t.Seal.Value), fixed(t.OutletDrop.Value), fixed(t.OutletRun.Value)
		}
		if e := v.n.Nodes[x.node].Outlet; e != network.None {
			o.DrainID, o.DrainDN = v.pipes[e].p.ID, some(v.pipes[e].dn)
		}
		o.TrapsInSeries = v.trapsInSeries(x)
		v.destination(x.node, &o)
		v.protectionFacts(x, &o)
		g := v.gravity[i]
		o.FallNeeded, o.FallAvailable = g.needed, g.available
		o.CouldFall = g.could()
		v.facts.Fixtures = append(v.facts.Fixtures, o)
	}
}

// trapsInSeries counts the fixture's own trap and those that stand in its
// drain before it is vented or joined.
func (v *derivation) trapsInSeries(x *fixture) int64 {
	var n int64
	if t := x.f.Trap; t != nil && t.Type != "none" {
		n = 1
	}
	for e := v.n.Nodes[x.node].Outlet; e != network.None && v.pipes[e].sums.only == x.node; {
		for i := range v.pipes[e].p.Devices {
			if v.pipes[e].p.Devices[i].Kind == "trap" {
				n++
			}
		}
		to := v.pipes[e].edge.To
		if len(v.n.Nodes[to].VentOut) > 0 {
			break
		}
		e = v.n.Nodes[to].Outlet
	}
	return n
}

// end is where the drainage of a node goes.
type end struct {
	basin      int  // first basin on the way, or None
	connection int  // or None
	valve      bool // a backwater valve stands on the way, or is stated beyond the connection
}

// ends follows the waste from every node at once, last nodes first. Where a
// basin has several pumps, the first that reaches a connection counts.
func (v *derivation) ends() []end {
	out := make([]end, len(v.n.Nodes))
	order := v.n.Order()
	for i := len(order) - 1; i >= 0; i-- {
		at := order[i]
		n := &v.n.Nodes[at]
		o := end{basin: network.None, connection: network.None}
		switch {
		case n.Kind == network.Connection:
			o.connection, o.valve = at, is(v.d.Connections[n.Item].Backwater)
		case n.Kind == network.Basin:
			for _, l := range n.Lifts {
				next := out[v.n.Edges[l].To]
				if o.connection == network.None && next.connection != network.None {
					o.connection, o.valve = next.connection, next.valve
				}
			}
			o.basin = at
		case n.Outlet != network.None:
			o = out[v.n.Edges[n.Outlet].To]
			o.valve = o.valve || hasDevice(v.pipes[n.Outlet].p, "backwater_valve")
		}
		out[at] = o
	}
	return out
}

func hasDevice(p *design.Pipe, kind string) bool {
	for i := range p.Devices {
		if p.Devices[i].Kind == kind {
			return true
		}
	}
	return false
}

func (v *derivation) destination(node int, o *Fixture) {
	d := v.endOf[node]
	o.ThroughValve = d.valve
	if d.connection != network.None {
		o.DrainsTo, o.ConnectionID = "connection", v.n.Nodes[d.connection].ID
	}
	if d.basin != network.None {
		o.DrainsTo, o.BasinID = "basin", v.n.Nodes[d.basin].ID
	}
}
