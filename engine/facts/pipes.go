package facts

import (
	"math/big"

	"backpitch/engine/design"
	"backpitch/engine/network"
)

// Words of the design schema that derivations look at.
const (
	horizontal = "horizontal"
	vertical   = "vertical"
	sloped45   = "sloped_45"

	fixtureDrain  = "fixture_drain"
	branch        = "branch"
	stack         = "stack"
	buildingDrain = "building_drain"
	buildingSewer = "building_sewer"
)

// pipe is what is known of one edge. A lift has no p.
type pipe struct {
	p    *design.Pipe
	edge network.Edge

	dn     int64 // 0: not stated
	length int64 // nm, or unknown
	lie    string
	role   string

	slope *rat // stated, else from inverts; nil for vertical pipes
	fall  *rat // m, from end to end
	from  *rat // invert, m
	to    *rat

	fromStated, toStated bool

	sums sums // what it carries
}

func (p *pipe) isDrain() bool  { return p.p != nil && p.edge.Service == network.Drain }
func (p *pipe) isVent() bool   { return p.p != nil && p.edge.Service == network.Vent }
func (p *pipe) isPumped() bool { return p.p != nil && p.edge.Service == network.Pumped }

// standing says whether water runs down the pipe rather than along it. The
// model codes call anything at 45 degrees or more vertical (from memory).
func (p *pipe) standing() bool { return p.lie == vertical || p.lie == sloped45 }

func (v *derivation) readPipes() {
	v.pipes = make([]pipe, len(v.n.Edges))
	v.nodes = make([]node, len(v.n.Nodes))
	for i, e := range v.n.Edges {
		q := &v.pipes[i]
		q.edge, q.length = e, unknown
		if e.Item == network.None {
			continue
		}
		p := &v.d.Pipes[e.Item]
		q.p, q.dn, q.length = p, p.Size.Fixed(), nanometres(p.Length)
		q.lie, q.role = p.Lie, p.Role
		q.from, q.to = metres(p.InvertFrom), metres(p.InvertTo)
		q.fromStated, q.toStated = q.from != nil, q.to != nil
		if !p.Slope.IsZero() {
			q.slope = p.Slope.Rat()
		}
	}
}

// junctions reports the design's junction at a node, nil for other nodes.
func (v *derivation) junction(node int) *design.Junction {
	if n := v.n.Nodes[node]; n.Kind == network.Junction {
		return &v.d.Junctions[n.Item]
	}
	return nil
}

// one is a slope of 45 degrees.
var one = big.NewRat(1, 1)

// liesFromSlopes: a pipe lies as stated; a stack stands (common practice: a
// stack is any vertical line of pipe); a stated slope of 1 in 1 or more is
// vertical, less is horizontal (the model codes' definition, from memory).
func (v *derivation) liesFromSlopes() {
	for i := range v.pipes {
		q := &v.pipes[i]
		switch {
		case q.p == nil || q.lie != "":
		case q.role == stack:
			q.lie = vertical
		case q.slope == nil:
		case q.slope.Cmp(one) >= 0:
			q.lie = vertical
		default:
			q.lie = horizontal
		}
	}
}

// liesFromInverts settles the pipes whose inverts have become known: 45
// degrees is a fall of the length over the root of two. The slope of a
// standing pipe is no fact, since its fall per run has no bound.
func (v *derivation) liesFromInverts() {
	for i := range v.pipes {
		q := &v.pipes[i]
		if q.p == nil || q.isVent() {
			continue
		}
		if q.from != nil && q.to != nil {
			q.fall = sub(q.from, q.to)
		}
		if q.lie == "" && q.fall != nil && q.length > 0 {
			q.lie = horizontal
			twice := new(rat).Mul(q.fall, q.fall)
			twice.Add(twice, twice)
			square := ofNanometres(q.length)
			if q.fall.Sign() > 0 && twice.Cmp(square.Mul(square, square)) >= 0 {
				q.lie = vertical
			}
		}
		switch {
		case q.lie == vertical:
			q.slope = nil
		case q.slope == nil && q.lie == sloped45:
			q.slope = one
		case q.slope == nil && q.fall != nil && q.length > 0:
			q.slope = new(rat).Quo(q.fall, ofNanometres(q.length))
		}
		if q.fall == nil {
			q.fall = v.ownFall(q)
		}
	}
}

// rootHalf is the sine of 45 degrees to fifteen digits.
var rootHalf = big.NewRat(707106781186548, 1e15)

// ownFall is the fall of a pipe by its length and slope, nil where either is
// not known. A vertical pipe falls its length. The developed length of a
// horizontal pipe is taken as its run, as the trade does: the fall is out by
// less than 0.1 % up to a slope of 4 % (geometry). Pipes at 45 degrees fall
// the length over the root of two.
func (v *derivation) ownFall(q *pipe) *rat {
	if q.length < 0 {
		return nil
	}
	l := ofNanometres(q.length)
	switch {
	case q.lie == vertical:
		return l
	case q.lie == sloped45:
		return l.Mul(l, rootHalf)
	case q.slope != nil:
		return bounded(l.Mul(l, q.slope))
	}
	return nil
}
