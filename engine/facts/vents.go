package facts

import (
	"backpitch/engine/network"
)

// ventEnd is where the vent that leaves a node comes out.
type ventEnd struct {
	kind     string // open_air, air_admittance_valve or nothing
	terminal int    // node, or None
	first    int    // which of the node's vents leads there
	length   int64  // developed, from the node to the end
}

func rank(kind string) int {
	switch kind {
	case "open_air":
		return 2
	case "air_admittance_valve":
		return 1
	}
	return 0
}

// ventEnds follows the vents from every node at once. Where several leave a
// node, the one that reaches the open air counts, then one that reaches a
// valve, then the smallest id.
func (v *derivation) ventEnds() {
	v.endAt = make([]ventEnd, len(v.n.Nodes))
	order := v.n.VentOrder()
	for i := len(order) - 1; i >= 0; i-- {
		at := order[i]
		n := &v.n.Nodes[at]
		end := ventEnd{kind: "nothing", terminal: network.None}
		if n.Kind == network.Terminal {
			end.terminal, end.kind = at, "open_air"
			if v.d.Terminals[n.Item].Kind == "air_admittance_valve" {
				end.kind = "air_admittance_valve"
			}
		}
		for k, e := range n.VentOut {
			next := v.endAt[v.pipes[e].edge.To]
			if k == 0 || rank(next.kind) > rank(end.kind) {
				end = ventEnd{kind: next.kind, terminal: next.terminal, first: k, length: plus(next.length, v.pipes[e].length)}
			}
		}
		v.endAt[at] = end
	}
}

// served is what a vent serves. Load in thousandths of a unit.
type served struct {
	load    int64
	unknown int64

	fixtures int64
	closets  int64

	rim     *rat // highest flood-level rim
	noRim   bool // one is not stated
	drainDN int64

	drains, basin bool

	up int64 // developed length from the farthest vent connection
}

// sums adds what is counted; the rest is widened.
func (s *served) join(o *served) {
	s.load += o.load
	s.unknown += o.unknown
	s.fixtures += o.fixtures
	s.closets += o.closets
	s.rim = higher(s.rim, o.rim)
	s.noRim = s.noRim || o.noRim
	s.drainDN = max(s.drainDN, o.drainDN)
	s.drains = s.drains || o.drains
	s.basin = s.basin || o.basin
}

// vents gathers what every vent serves, from the drains towards the air.
func (v *derivation) vents() {
	v.serves = make([]served, len(v.n.Nodes))
	v.ventSources()
	less := v.ventsMeet()
	for _, at := range v.n.VentOrder() {
		n, s := &v.n.Nodes[at], &v.serves[at]
		for _, from := range less[at] { // counted twice where split vents meet again
			o := &v.serves[from]
			s.load, s.unknown = s.load-o.load, s.unknown-o.unknown
			s.fixtures, s.closets = s.fixtures-o.fixtures, s.closets-o.closets
		}
		for _, e := range n.VentOut {
			q := &v.pipes[e]
			to := &v.serves[q.edge.To]
			to.join(s)
			length := plus(s.up, q.length)
			if length < 0 || to.up < 0 {
				to.up = unknown
			} else {
				to.up = max(to.up, length)
			}
		}
	}
	v.ventLevels()
}

// ventSources puts at every node from which a vent leaves a drain or basin
// what relies on it:
//
//   - the fixtures that it protects;
//   - at the top of a stack, the load and size of the whole stack (as the
//     model codes size stack vents, from memory);
//   - at a drain where no trap relies on it, as for a relief vent, the load
//     and size of that drain (common practice).
func (v *derivation) ventSources() {
	for i := range v.fixtures {
		x := &v.fixtures[i]
		a, method := v.armOf(x)
		if method == unprotected || a.vent == network.None {
			continue
		}
		s := &v.serves[a.vent]
		s.fixtures++
		if x.f.Kind == "water_closet" {
			s.closets++
		}
		if x.load == nil {
			s.unknown++
		} else {
			s.load += *x.load
		}
		if rim := metres(x.f.FloodRim); rim != nil {
			s.rim = higher(s.rim, rim)
		} else {
			s.noRim = true
		}
		if method != basinVented {
			s.drainDN = max(s.drainDN, v.pipes[a.last].dn)
		}
	}
	v.bases = v.stackBases()
	for i := range v.n.Nodes {
		n, s := &v.n.Nodes[i], &v.serves[i]
		if len(n.VentOut) == 0 {
			continue
		}
		if n.Kind == network.Basin {
			s.basin = true
			continue
		}
		out := v.outDrain(i)
		s.drains = out != nil || len(n.DrainIn) > 0
		if out == nil {
			continue
		}
		if out.role == stack && out.standing() {
			v.serveDrain(s, &v.pipes[v.bases[n.Outlet]])
		} else if s.fixtures == 0 {
			v.serveDrain(s, out)
		}
	}
}

func (v *derivation) serveDrain(s *served, q *pipe) {
	s.load, s.unknown = 0, 0
	if load := q.sums.total(); load != nil {
		s.load = *load
	} else {
		s.unknown = 1
	}
	s.drainDN = max(s.drainDN, q.dn)
}

// stackBases gives for every vertical drain the lowest pipe of its stack.
func (v *derivation) stackBases() []int {
	base := make([]int, len(v.pipes))
	order := v.n.Order()
	for i := len(order) - 1; i >= 0; i-- {
		e := v.n.Nodes[order[i]].Outlet
		if e == network.None {
			continue
		}
		base[e] = e
		next := v.outDrain(v.pipes[e].edge.To)
		if next != nil && v.pipes[e].standing() && next.standing() {
			base[e] = base[v.n.Nodes[v.pipes[e].edge.To].Outlet]
		}
	}
	return base
}

// ventsMeet lists by node the nodes whose vents part and meet again there.
func (v *derivation) ventsMeet() map[int][]int {
	less := map[int][]int{}
	for i := range v.n.Nodes {
		n := &v.n.Nodes[i]
		if len(n.VentOut) < 2 {
			continue
		}
		seen := map[int]bool{}
		for _, e := range n.VentOut {
			at := v.pipes[e].edge.To
			for !seen[at] {
				seen[at] = true
				out := v.n.Nodes[at].VentOut
				if len(out) == 0 {
					at = network.None
					break
				}
				at = v.pipes[out[v.endAt[at].first]].edge.To
			}
			if at != network.None {
				less[at] = append(less[at], i)
			}
		}
	}
	return less
}

func (v *derivation) ventFacts() {
	for i := range v.pipes {
		q := &v.pipes[i]
		if !q.isVent() {
			continue
		}
		s, end := &v.serves[q.edge.From], v.endAt[q.edge.To]
		from := &v.n.Nodes[q.edge.From]
		o := Vent{
			ID: q.p.ID, Size: sizeKey(q.dn), DN: some(q.dn), Lie: q.lie, Diameter: v.diameter(q.dn),
			DrainSize: sizeKey(s.drainDN), DrainDN: some(s.drainDN), DrainDiameter: v.diameter(s.drainDN),
			Length: micrometres(plus(plus(s.up, q.length), end.length)), EndsAt: end.kind,
			ServesDrains: s.drains, ServesBasin: s.basin, WaterCloset: s.closets > 0,
			FromDrain: from.Kind == network.Junction && (len(from.DrainIn) > 0 || v.outDrain(q.edge.From) != nil),
			Slope:     v.ventSlope(q),
		}
		if end.terminal != network.None {
			o.TerminalID = v.n.Nodes[end.terminal].ID
		}
		if s.unknown == 0 && (s.drains || s.fixtures > 0) {
			o.Load = ptr(max(0, s.load))
		}
		v.ventBelow(i, &o)
		v.aboveRim(q, s, &o)
		v.facts.Vents = append(v.facts.Vents, o)
	}
}

// ventBelow finds the largest vent that leads into the lower end of vent e.
// Where several vents leave there, the air has the largest of them.
func (v *derivation) ventBelow(e int, o *Vent) {
	q := &v.pipes[e]
	n := &v.n.Nodes[q.edge.From]
	for _, beside := range n.VentOut {
		if v.pipes[beside].dn > q.dn {
			return
		}
	}
	o.HasBelow = len(n.VentIn) > 0
	for _, in := range n.VentIn {
		below := &v.pipes[in]
		if below.dn == 0 {
			o.LargestBelow, o.LargestFrom = nil, ""
			return
		}
		if o.LargestBelow == nil || below.dn > *o.LargestBelow {
			o.LargestBelow, o.LargestFrom = ptr(below.dn), below.p.ID
		}
	}
}

// aboveRim gives the heights over the highest flood-level rim served.
func (v *derivation) aboveRim(q *pipe, s *served, o *Vent) {
	if s.rim == nil || s.noRim {
		return
	}
	at := q.from
	if o.FromDrain {
		at = q.to
	}
	if at != nil {
		o.HeightAtTop = toMillionths(sub(at, s.rim))
	}
	if q.lie == horizontal && q.from != nil && q.to != nil {
		o.LowPoint = toMillionths(sub(lower(q.from, q.to), s.rim))
	}
}
