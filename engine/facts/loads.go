package facts

import (
	"slices"

	"backpitch/engine/network"
)

// Marks of sums.only that are no node.
const (
	noFixture    = -1
	manyFixtures = -2
)

// sums is what a drain carries. Loads are in thousandths of a unit, flows in
// mL/s. The unknown counts say how many parts of a sum are not known.
type sums struct {
	load        int64 // of fixtures by gravity, and existing load
	unknownLoad int64
	largest     int64 // load of the one largest fixture
	continuous  int64 // stated continuous flow of fixtures

	pumped        [ends]int64
	pumpLoad      [ends]int64 // of pumped flow, and of fixtures that count by their flow
	unknownPumped int64       // pumps whose rate is not known
	unknownPump   int64       // pumps whose rate or load is not known

	fixtures int64 // pumped ones included, as are the next three
	closets  int64
	urinals  int64
	kinds    uint64

	gravityFixtures int64
	gravityClosets  int64
	existing        bool // load from outside the design enters
	only            int  // the one fixture that drains here by gravity

	above        int64 // fixtures above the upstream manhole cover
	aboveUnknown int64
}

var nothing = sums{only: noFixture}

func (s *sums) add(o sums) {
	s.load += o.load
	s.unknownLoad += o.unknownLoad
	s.largest = max(s.largest, o.largest)
	s.continuous += o.continuous
	for end := range ends {
		s.pumped[end] += o.pumped[end]
		s.pumpLoad[end] += o.pumpLoad[end]
	}
	s.unknownPumped += o.unknownPumped
	s.unknownPump += o.unknownPump
	s.fixtures += o.fixtures
	s.closets += o.closets
	s.urinals += o.urinals
	s.kinds |= o.kinds
	s.gravityFixtures += o.gravityFixtures
	s.gravityClosets += o.gravityClosets
	s.existing = s.existing || o.existing
	s.above += o.above
	s.aboveUnknown += o.aboveUnknown
	switch {
	case o.only == noFixture:
	case s.only == noFixture:
		s.only = o.only
	default:
		s.only = manyFixtures
	}
}

// total is the load with pumped flow as load, nil where a part is unknown.
func (s *sums) total() *int64 { return s.totals()[expected] }

// totals is the same at each end of the pumps.
func (s *sums) totals() (t spread) {
	if s.unknownLoad+s.unknownPump > 0 {
		return t
	}
	for end := range ends {
		t[end] = ptr(max(0, s.load+s.pumpLoad[end]))
	}
	return t
}

// loads carries everything down in one pass, each node after all that drains
// into it. Loads add up (the model codes' method, from memory); a bathroom
// group counts as one from the first point that all its members reach. What
// is pumped goes on below the pump as the pump's rate, whatever drains into
// its basin (the codes' rule for pumped discharges, from memory); its water
// closets are carried on by number.
func (v *derivation) loads() {
	for i := range v.nodes {
		v.nodes[i].sums = nothing
	}
	v.countOnce()
	v.endOf = v.ends()
	groups := v.newGroups()
	for _, at := range v.n.Order() {
		n, s := &v.n.Nodes[at], &v.nodes[at].sums
		if n.Kind == network.Fixture {
			s.add(v.ownSums(n.Item))
		}
		groups.settle(at, s)
		if less := v.nodes[at].less; less != (sums{}) {
			s.fixtures -= less.fixtures
			for end := range ends {
				s.pumped[end] -= less.pumped[end]
				s.pumpLoad[end] -= less.pumpLoad[end]
			}
			s.closets -= less.closets
			s.urinals -= less.urinals
			s.above -= less.above
			s.aboveUnknown -= less.aboveUnknown
		}
		if n.Outlet != network.None {
			q := &v.pipes[n.Outlet]
			q.sums = *s
			v.enterPipe(q)
			v.nodes[q.edge.To].sums.add(q.sums)
			if q.isDrain() {
				groups.pass(at, q.edge.To)
			}
		}
		for _, l := range n.Lifts {
			q := &v.pipes[l]
			q.sums = v.throughPump(*s, q.edge)
			v.nodes[q.edge.To].sums.add(q.sums)
			v.forMeeting(at, l, *s)
		}
	}
}

func (v *derivation) ownSums(item int) sums {
	x := &v.fixtures[item]
	s := sums{
		fixtures: 1, gravityFixtures: 1, kinds: 1 << x.kind, only: x.node,
	}
	switch {
	case x.load == nil:
		s.unknownLoad = 1
	case x.loadFrom == loadByFlow:
		s.pumpLoad = [ends]int64{*x.load, *x.load, *x.load}
	default:
		s.load, s.largest = *x.load, *x.load
	}
	switch x.f.Kind {
	case "water_closet":
		s.closets, s.gravityClosets = 1, 1
	case "urinal":
		s.urinals = 1
	case "shower": // its flow is that of its heads, which its load already counts
	default:
		if f := x.f.Flow.Fixed(); f > 0 && f <= mostFlow {
			s.continuous = f
		}
	}
	switch below := v.belowManhole(x.f); {
	case below == nil:
		s.aboveUnknown = 1
	case !*below:
		s.above = 1
	}
	return s
}

// enterPipe adds what a pipe states to come from outside the design.
func (v *derivation) enterPipe(q *pipe) {
	s := &q.sums
	if !q.p.Load.IsZero() {
		s.existing = true
		if l := v.statedLoad(q.p.Load); l == nil || *l < 0 || *l > mostLoad {
			s.unknownLoad++
		} else {
			s.load += *l
		}
	}
	if c := q.p.Closets; c != nil && *c > 0 {
		s.existing = true
		s.closets += int64(*c)
		s.gravityClosets += int64(*c)
		s.kinds |= v.closets
	}
}

// throughPump is what one pump of a basin passes on. A standby pump adds no
// flow, since it runs in place of another.
func (v *derivation) throughPump(s sums, lift network.Edge) sums {
	o := sums{
		fixtures: s.fixtures, closets: s.closets, urinals: s.urinals, kinds: s.kinds,
		only: noFixture, above: s.above, aboveUnknown: s.aboveUnknown,
	}
	p := &v.pumps[v.n.Nodes[lift.To].Item]
	if p.p.Duty == "standby" && len(v.n.Nodes[lift.From].Lifts) > 1 {
		return o
	}
	if p.rate[expected] == nil {
		o.unknownPumped = 1
		if v.t.CountsPumps() {
			o.unknownPump = 1
		}
		return o
	}
	for end, rate := range p.rate {
		o.pumped[end] = *rate
		if !v.t.CountsPumps() {
			continue
		}
		load, ok := v.t.PumpLoad(*rate)
		if !ok {
			o.unknownPump = 1
		}
		o.pumpLoad[end] = load
	}
	return o
}

// countOnce finds, for basins with several pumps, where the lines of the
// pumps meet again: what drains to the basin passes there once, not once for
// each pump. Lines that meet only beyond another basin are not looked for.
func (v *derivation) countOnce() {
	v.meets = make([]int, len(v.pipes))
	for i := range v.meets {
		v.meets[i] = network.None
	}
	for i := range v.n.Nodes {
		lifts := v.n.Nodes[i].Lifts
		if len(lifts) < 2 {
			continue
		}
		seen := map[int]bool{}
		for _, l := range lifts {
			at := v.n.Edges[l].To
			for !seen[at] {
				seen[at] = true
				out := v.n.Nodes[at].Outlet
				if out == network.None {
					at = network.None
					break
				}
				at = v.n.Edges[out].To
			}
			v.meets[l] = at
		}
	}
}

// forMeeting notes what is counted twice where a further pump's line meets.
func (v *derivation) forMeeting(basin, lift int, s sums) {
	if at := v.meets[lift]; at != network.None && lift != v.n.Nodes[basin].Lifts[0] {
		less := &v.nodes[at].less
		less.fixtures += s.fixtures
		less.closets += s.closets
		less.urinals += s.urinals
		less.above += s.above
		less.aboveUnknown += s.aboveUnknown
	}
}

// groups merges the members of bathroom groups on their way down. At each node
// it holds how many members of each unfinished group have arrived.
type groups struct {
	v       *derivation
	size    []int
	members []int64 // sum of the members' loads
	unknown []bool
	value   []*int64
	arrived []map[int]int // by node; the smaller map is merged into the larger
}

// newGroups takes the groups in order of id; a fixture belongs to the first
// that names it, and a group that has lost a member is no group.
func (v *derivation) newGroups() *groups {
	g := &groups{v: v, arrived: make([]map[int]int, len(v.n.Nodes))}
	index := make([]int, len(v.d.Groups))
	for i := range index {
		index[i] = i
	}
	slices.SortStableFunc(index, func(a, b int) int { return compareText(v.d.Groups[a].ID, v.d.Groups[b].ID) })
	taken := map[int]bool{}
	for _, i := range index {
		g.take(v.d.Groups[i].Fixtures, taken)
	}
	return g
}

func (g *groups) take(ids []string, taken map[int]bool) {
	v := g.v
	var nodes []int
	var sum, flush int64
	unknown, closet := false, false
	for _, id := range ids {
		n, ok := v.n.Node(id)
		if !ok || v.n.Nodes[n].Kind != network.Fixture || taken[n] {
			return
		}
		taken[n] = true
		nodes = append(nodes, n)
		x := &v.fixtures[v.n.Nodes[n].Item]
		if x.load == nil {
			unknown = true
		} else {
			sum += *x.load
		}
		if x.f.Kind == "water_closet" {
			closet = true
			flush = max(flush, x.f.Flush.Fixed())
		}
	}
	if !closet || len(nodes) < 2 {
		return
	}
	value, ok := v.t.GroupLoad(flush)
	if !ok {
		return
	}
	id := len(g.size)
	g.size, g.members = append(g.size, len(nodes)), append(g.members, sum)
	g.unknown, g.value = append(g.unknown, unknown), append(g.value, &value)
	for _, n := range nodes {
		if g.arrived[n] == nil {
			g.arrived[n] = map[int]int{}
		}
		g.arrived[n][id]++
	}
}

// settle counts the groups that are complete at a node as one, where that is lower.
func (g *groups) settle(at int, s *sums) {
	for id, n := range g.arrived[at] {
		if n != g.size[id] {
			continue
		}
		if !g.unknown[id] && *g.value[id] < g.members[id] {
			s.load += *g.value[id] - g.members[id]
		}
		delete(g.arrived[at], id)
	}
}

// pass hands the unfinished groups of a node to the next one.
func (g *groups) pass(from, to int) {
	a, b := g.arrived[from], g.arrived[to]
	g.arrived[from] = nil
	if len(a) > len(b) {
		a, b = b, a
	}
	for id, n := range a {
		b[id] += n
	}
	g.arrived[to] = b
}
