package facts

import (
	"backpitch/engine/network"
)

// Ways in which a trap is protected.
const (
	individual    = "individual"
	common        = "common"
	wet           = "wet"
	circuit       = "circuit"
	combination   = "combination"
	stackVented   = "stack"
	airAdmittance = "air_admittance"
	basinVented   = "basin"
	unprotected   = "none"
)

// arm is what lies below the upper end of a drain down to the first point
// where air comes in.
type arm struct {
	method string // "" until air is found
	node   int    // the fitting or basin where air comes in
	vent   int    // the node whose dry vent brings it, or None
	via    int    // the drain through which air comes, for wet and stack
	last   int    // the drain that arrives at node
	shared bool   // another unvented drain joins before that

	length   int64
	fall     *rat
	noFall   bool // a fall is not known
	slope    *rat // least of the horizontal pipes
	noSlope  bool
	turns    int64
	dn       int64 // smallest; 0 where one is not stated
	cleanout bool
	drop     bool
	level    bool // a pipe of it does not stand
}

// airway is how air reaches a drain from upstream.
type airway struct {
	vent int  // the node with the dry vent, or None
	top  bool // up a vertical drain whose top continues as a vent
	in   int  // the drain through which it comes at the upper end, or None
}

// protection walks down from every trap to the first point where air comes
// in. The rule, in this order, at the point where a drain arrives (definitions
// of the model codes, from memory; the choice between them is ours):
//
//   - circuit, combination: the drain it joins states that it vents so, and a
//     vent reaches that line of drains; into a combination line air may come
//     down a vented drain as well, while a circuit vent leaves the line itself.
//     A circuit line ends where the last fixture joins it, so that a fixture
//     that joins at its end relies on it too where the drain goes on level;
//   - individual, common: a vent leaves the junction, and one, or more than
//     one, unvented fixture drain arrives; air_admittance where that vent ends
//     in an air admittance valve only;
//   - stack: another drain arrives from above, vertical, of role stack, whose
//     top continues as a vent, and the outflow is vertical;
//   - wet: another drain arrives that is dry-vented upstream;
//   - basin: it empties into a basin that has a vent;
//   - else the walk goes on. Two unvented drains that join before any vent
//     have no accepted protection, save in combination and basin.
func (v *derivation) protection() {
	v.ventEnds()
	v.airways()
	v.lines()
	v.open = make([]int64, len(v.pipes))
	v.arriving = make([]int64, len(v.n.Nodes))
	for _, at := range v.n.Order() {
		n := &v.n.Nodes[at]
		var through int64
		if n.Kind == network.Fixture { // indirect waste that falls into it leaves by its trap
			if n.Outlet != network.None {
				v.open[n.Outlet] = 1
			}
			continue
		}
		for _, e := range n.DrainIn {
			if v.open[e] == 0 {
				continue
			}
			if method, _, _ := v.airAt(at, e); method == "" {
				through += v.open[e]
			} else {
				v.arriving[at] += v.open[e]
			}
		}
		if q := v.outDrain(at); q != nil {
			v.open[n.Outlet] = through
		}
	}
	v.arms = make([]arm, len(v.pipes))
	order := v.n.Order()
	for i := len(order) - 1; i >= 0; i-- {
		for _, e := range v.n.Nodes[order[i]].DrainIn {
			v.arms[e] = v.armFrom(order[i], e)
		}
	}
}

// airways finds, for every drain, the dry vent from which air can come down it.
func (v *derivation) airways() {
	v.air = make([]airway, len(v.pipes))
	v.airIn = make([][2]int, len(v.n.Nodes))
	for i := range v.air {
		v.air[i] = airway{vent: network.None, in: network.None}
	}
	for _, at := range v.n.Order() {
		n := &v.n.Nodes[at]
		best := [2]int{network.None, network.None} // the two drains that bring air best
		for _, e := range n.DrainIn {
			if v.air[e].vent == network.None {
				continue
			}
			switch {
			case best[0] == network.None || v.air[e].top && !v.air[best[0]].top:
				best[0], best[1] = e, best[0]
			case best[1] == network.None || v.air[e].top && !v.air[best[1]].top:
				best[1] = e
			}
		}
		v.airIn[at] = best
		q := v.outDrain(at)
		if q == nil || n.Kind == network.Fixture {
			continue
		}
		a := &v.air[n.Outlet]
		switch {
		case len(n.VentOut) > 0:
			a.vent, a.top = at, q.standing()
		case best[0] != network.None:
			a.vent, a.in = v.air[best[0]].vent, best[0]
			a.top = q.standing() && v.air[best[0]].top
		}
	}
}

// lines joins drains that state circuit or combination venting to lines, and
// finds the vent of each.
func (v *derivation) lines() {
	v.lineOf = make([]int, len(v.pipes))
	for i := range v.lineOf {
		v.lineOf[i] = network.None
	}
	order := v.n.Order()
	for i := len(order) - 1; i >= 0; i-- {
		at := order[i]
		q := v.outDrain(at)
		if q == nil || !ventsSo(q) {
			continue
		}
		e := v.n.Nodes[at].Outlet
		next := v.outDrain(q.edge.To)
		if next != nil && next.p.Venting == q.p.Venting {
			v.lineOf[e] = v.lineOf[v.n.Nodes[q.edge.To].Outlet]
		} else {
			v.lineOf[e] = len(v.lineVent)
			v.lineVent = append(v.lineVent, network.None)
			if q.p.Venting == combination {
				v.ventLine(v.lineOf[e], q.edge.To, combination)
			}
		}
		v.ventLine(v.lineOf[e], at, q.p.Venting)
	}
}

// ventLine notes a vent of a line: one that leaves its node, or one that
// brings air to a combination line from upstream. A circuit vent leaves the
// line before its last fixture (model codes, from memory): what stands
// upstream of the line, or at its end, is none.
func (v *derivation) ventLine(line, node int, venting string) {
	switch in := v.airIn[node][0]; {
	case len(v.n.Nodes[node].VentOut) > 0:
		v.lineVent[line] = node
	case in != network.None && v.lineVent[line] == network.None && venting == combination:
		v.lineVent[line] = v.air[in].vent
	}
}

// vented says whether a drain is part of a line that a vent reaches.
func (v *derivation) vented(e int) bool {
	return v.lineOf[e] != network.None && v.lineVent[v.lineOf[e]] != network.None
}

func ventsSo(q *pipe) bool { return q.p.Venting == circuit || q.p.Venting == combination }

// airAt says how air comes in where drain e arrives at a node: the method ""
// for not at all, the node with the dry vent, and the drain it comes through.
// Individual stands for common and air_admittance too.
func (v *derivation) airAt(at, e int) (method string, vent, via int) {
	n := &v.n.Nodes[at]
	for _, line := range [2]int{n.Outlet, e} {
		if line != network.None && v.pipes[line].isDrain() && v.vented(line) {
			return v.pipes[line].p.Venting, v.lineVent[v.lineOf[line]], line
		}
	}
	switch {
	case n.Kind == network.Basin && len(n.VentOut) > 0:
		return basinVented, at, network.None
	case len(n.VentOut) > 0:
		return individual, at, network.None
	}
	other := v.airIn[at][0]
	if other == e {
		other = v.airIn[at][1]
	}
	if other == network.None || n.Kind != network.Junction {
		return "", network.None, network.None
	}
	out := v.outDrain(at)
	if v.air[other].top && v.pipes[other].role == stack && out != nil && out.standing() {
		return stackVented, v.air[other].vent, other
	}
	if v.vented(other) && v.pipes[other].p.Venting == circuit && out != nil && !out.standing() {
		return circuit, v.lineVent[v.lineOf[other]], other
	}
	return wet, v.air[other].vent, other
}

// armFrom makes the arm of drain e, which arrives at a node.
func (v *derivation) armFrom(at, e int) arm {
	q := &v.pipes[e]
	a := arm{node: network.None, vent: network.None, via: network.None, last: network.None, method: unprotected}
	if method, vent, via := v.airAt(at, e); method != "" {
		a.method, a.node, a.vent, a.via, a.last = method, at, vent, via, e
		if method == individual {
			a.method = v.ventedHere(at)
		}
	} else if v.outDrain(at) != nil && v.n.Nodes[at].Kind == network.Junction {
		a = v.arms[v.n.Nodes[at].Outlet]
	}
	a.shared = a.shared || v.open[e] > 1
	if a.last == e {
		a.dn, a.length = q.dn, q.length
	} else {
		a.length = plus(a.length, q.length)
		if q.dn == 0 || a.dn != 0 && q.dn < a.dn {
			a.dn = q.dn
		}
	}
	v.lengthen(&a, q)
	return a
}

// ventedHere tells the methods apart where a vent leaves the junction itself.
func (v *derivation) ventedHere(at int) string {
	switch {
	case v.endAt[at].kind == "air_admittance_valve":
		return airAdmittance
	case v.arriving[at] > 1:
		return common
	}
	return individual
}

// lengthen adds a pipe to the fall, slope and turns of an arm.
func (v *derivation) lengthen(a *arm, q *pipe) {
	switch {
	case q.fall == nil:
		a.noFall = true
	case a.fall == nil:
		a.fall = q.fall
	default:
		a.fall = add(a.fall, q.fall)
	}
	a.level = a.level || !q.standing()
	switch {
	case q.standing():
		a.drop = true
	case q.slope == nil:
		a.noSlope = true
	default:
		a.slope = lower(a.slope, q.slope)
	}
	for i := range q.p.Bends {
		a.turns += turn(q.p.Bends[i].Kind)
	}
	a.cleanout = a.cleanout || hasDevice(q.p, "cleanout")
}

// turn is the angle of a bend in thousandths of a degree, as its name says: a
// quarter bend is a quarter of a circle.
func turn(kind string) int64 {
	switch kind {
	case "quarter_bend", "short_sweep", "long_sweep":
		return 90_000
	case "sixth_bend":
		return 60_000
	case "eighth_bend":
		return 45_000
	case "sixteenth_bend":
		return 22_500
	}
	return 0
}

// armOf is the arm of a fixture and its method, nil where it has no drain.
func (v *derivation) armOf(x *fixture) (*arm, string) {
	if x.node == network.None {
		return nil, unprotected
	}
	e := v.n.Nodes[x.node].Outlet
	if e == network.None || !v.pipes[e].isDrain() {
		return nil, unprotected
	}
	a := &v.arms[e]
	if a.shared && a.method != combination && a.method != basinVented {
		return a, unprotected
	}
	return a, a.method
}

func (v *derivation) protectionFacts(x *fixture, o *Fixture) {
	a, method := v.armOf(x)
	o.VentMethod = method
	if a == nil {
		return
	}
	o.JoinedUnvented = a.shared
	if method == unprotected || a.vent == network.None {
		return
	}
	n := &v.n.Nodes[a.vent]
	end := v.endAt[a.vent]
	o.VentID, o.VentEndsAt = v.n.Edges[n.VentOut[end.first]].ID, end.kind
	if len(v.n.Nodes[a.node].VentOut) > 0 {
		o.VentSharedBy = some(v.arriving[a.node])
	}
}

func (v *derivation) trapArms() {
	for i := range v.fixtures {
		x := &v.fixtures[i]
		a, method := v.armOf(x)
		if method == unprotected {
			continue
		}
		o := TrapArm{
			ID: x.f.ID, FixtureKind: x.f.Kind, SelfSiphonic: x.f.Kind == "water_closet", Method: method,
			Size: sizeKey(a.dn), DN: some(a.dn), Diameter: v.diameter(a.dn),
			Length: micrometres(a.length), Turns: ptr(a.turns),
			HasCleanout: a.cleanout, VerticalDrop: a.drop, LevelPart: a.level,
		}
		if !a.noFall {
			o.Fall = toMillionths(a.fall)
		}
		if !a.noSlope {
			o.Slope = toMillionths(a.slope)
		}
		v.facts.TrapArms = append(v.facts.TrapArms, o)
		for e := v.n.Nodes[x.node].Outlet; v.pipes[e].sums.only == x.node; e = v.n.Nodes[v.pipes[e].edge.To].Outlet {
			v.armPart[e] = x.f.ID
			if e == a.last {
				break
			}
		}
	}
}
