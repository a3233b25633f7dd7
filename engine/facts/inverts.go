package facts

import (
	"fmt"
	"math/big"

	"backpitch/engine/network"
	"backpitch/engine/quantity"
)

// inverts works out the elevation of the invert at both ends of every drain.
// What is stated stands: pipe ends, junction inverts, basin inlets and
// connection inverts; a trap weir is no invert. Then, in this order:
//
//  1. a pipe with one stated end gets the other from its length and slope;
//  2. downstream: waste leaves a junction at the junction's invert, else at
//     the lowest invert that arrives (common practice: inverts are matched, a
//     drain may drop in from above);
//  3. upstream: a drain whose lower end is not known arrives at the invert
//     where waste leaves.
//
// Indirect waste falls through air into another fixture, so that 2 and 3 say
// nothing of it, nor of the drain of that fixture.
//
// All sums are exact. A pipe or junction that then contradicts itself is a
// problem; see checkInverts.
func (v *derivation) inverts() {
	for i := range v.n.Nodes {
		v.nodes[i].invert = v.statedInvert(i)
	}
	for i := range v.pipes {
		if q := &v.pipes[i]; q.isDrain() {
			v.acrossPipe(q)
		}
	}
	order := v.n.Order()
	v.invertsDown(order)
	for i := len(order) - 1; i >= 0; i-- {
		v.arriveAt(order[i])
	}
	v.invertsDown(order)
	v.checkInverts()
}

// statedInvert is what the design says of a node: a basin's inlet may be
// stated by elevation or above the basin floor.
func (v *derivation) statedInvert(i int) *rat {
	n := v.n.Nodes[i]
	switch n.Kind {
	case network.Junction:
		return metres(v.d.Junctions[n.Item].Invert)
	case network.Connection:
		return metres(v.d.Connections[n.Item].Invert)
	case network.Basin:
		return v.inletElevation(n.Item)
	}
	return nil
}

// acrossPipe fills the one unknown end of a pipe.
func (v *derivation) acrossPipe(q *pipe) {
	if (q.from == nil) == (q.to == nil) {
		return
	}
	fall := v.ownFall(q)
	switch {
	case fall == nil:
	case q.from == nil:
		q.from = add(q.to, fall)
	default:
		q.to = sub(q.from, fall)
	}
}

func (v *derivation) invertsDown(order []int) {
	for _, i := range order {
		n, out := &v.n.Nodes[i], v.outDrain(i)
		if n.Kind != network.Junction && n.Kind != network.Fixture {
			continue
		}
		at := &v.nodes[i].invert
		if *at == nil && out != nil {
			*at = out.from
		}
		if *at == nil && n.Kind == network.Junction {
			for _, e := range n.DrainIn {
				*at = lower(*at, v.pipes[e].to)
			}
		}
		if out != nil && out.from == nil && *at != nil {
			out.from = *at
			v.acrossPipe(out)
		}
	}
}

// arriveAt gives drains without an end of their own the invert where waste leaves.
func (v *derivation) arriveAt(i int) {
	at := &v.nodes[i].invert
	if out := v.outDrain(i); *at == nil && out != nil {
		*at = out.from
	}
	if *at == nil || v.n.Nodes[i].Kind == network.Fixture {
		return
	}
	for _, e := range v.n.Nodes[i].DrainIn {
		if q := &v.pipes[e]; q.to == nil {
			q.to = *at
			v.acrossPipe(q)
		}
	}
}

// outDrain is the drain that leaves a node, nil where none does.
func (v *derivation) outDrain(i int) *pipe {
	if e := v.n.Nodes[i].Outlet; e != network.None && v.pipes[e].isDrain() {
		return &v.pipes[e]
	}
	return nil
}

// tolerance is how far stated levels may disagree: 1/8 in, as finely as a
// level is read on site (common practice).
var tolerance = big.NewRat(3175, 1e6)

// checkInverts reports drains that contradict themselves:
//
//   - inverts at both ends that differ from length times slope by more than
//     the tolerance, where length and slope are stated and both inverts come
//     from statements;
//   - a fall greater than the pipe is long;
//   - a drain that leaves a junction at another level than the junction states;
//   - a drain that arrives at a junction below the invert at which waste
//     leaves it: water would have to climb. Arriving above is a drop and is
//     allowed. At a basin or a connection it is a fact that rules judge.
func (v *derivation) checkInverts() {
	for i := range v.pipes {
		q := &v.pipes[i]
		if !q.isDrain() {
			continue
		}
		if q.from != nil && q.to != nil {
			v.checkFall(q)
		}
		if q.from != nil {
			v.checkStart(q)
		}
		if q.to != nil {
			v.checkStep(q)
		}
	}
}

func (v *derivation) checkFall(q *pipe) {
	fall, own := sub(q.from, q.to), v.ownFall(q)
	switch {
	case q.lie != vertical && own != nil && apart(fall, own):
		v.problem(q.p.Position, "inverts_disagree",
			fmt.Sprintf("pipe %q falls %s by its inverts, and %s by its length and slope", q.p.ID, v.length(fall), v.length(own)),
			"state two of inverts, length and slope, or make the three agree")
	case q.length >= 0 && beyond(fall, ofNanometres(q.length)):
		v.problem(q.p.Position, "inverts_disagree",
			fmt.Sprintf("pipe %q falls %s by its inverts, more than its length of %s", q.p.ID, v.length(fall), v.length(ofNanometres(q.length))),
			"correct an invert or the length")
	}
}

func (v *derivation) checkStart(q *pipe) {
	j := v.junction(q.edge.From)
	if j == nil {
		return
	}
	if at := metres(j.Invert); at != nil && apart(at, q.from) {
		v.problem(q.p.Position, "inverts_disagree",
			fmt.Sprintf("pipe %q leaves junction %q at %s, and the junction's invert is %s", q.p.ID, j.ID, v.length(q.from), v.length(at)),
			"correct the invert of the junction or of the pipe")
	}
}

func (v *derivation) checkStep(q *pipe) {
	at := v.nodes[q.edge.To].invert
	j := v.junction(q.edge.To)
	out := v.outDrain(q.edge.To)
	if j == nil || out == nil {
		return
	}
	at = lower(at, out.from)
	if at == nil || !beyond(at, q.to) {
		return
	}
	v.problem(q.p.Position, "inverts_disagree",
		fmt.Sprintf("pipe %q arrives at junction %q %s below the invert at which waste leaves it", q.p.ID, j.ID, v.length(sub(at, q.to))),
		"water cannot climb: correct an invert, a length or a slope")
}

// apart: the two differ by more than the tolerance.
func apart(a, b *rat) bool { return beyond(a, b) || beyond(b, a) }

// beyond: a is more than the tolerance above b.
func beyond(a, b *rat) bool { return sub(a, b).Cmp(tolerance) > 0 }

// length prints a length in the profile's units.
func (v *derivation) length(r *rat) string {
	um := toMillionths(r)
	if um == nil {
		return "a length beyond measure"
	}
	system := quantity.US
	if v.t.Metric() {
		system = quantity.SI
	}
	return quantity.Format(quantity.Length, *um, system)
}
