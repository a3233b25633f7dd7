package facts

import (
	"math/big"

	"backpitch/engine/calcs"
	"backpitch/engine/network"
)

// fallTo is what a fixture needs and has to reach the sewer without a pump.
type fallTo struct {
	needed    *int64
	available *int64
}

// could says whether the fixture could fall to the sewer, nil where not known.
func (g fallTo) could() *bool {
	if g.needed == nil || g.available == nil {
		return nil
	}
	return ptr(*g.available >= *g.needed)
}

// fallsToSewer works out for every fixture the height of its trap weir above
// the sewer invert, and the fall that the least slope of the profile needs
// over the way there (common practice for a first look: one slope all the way,
// that of the fixture's own drain size). The sewer invert is the building's,
// else that of the connection its drainage leaves by. The way is the stated
// distance to the sewer, else the developed length of the drains to the
// connection where no pump stands between.
func (v *derivation) fallsToSewer() {
	v.gravity = make([]fallTo, len(v.fixtures))
	lengths := v.toConnection()
	for i := range v.fixtures {
		x := &v.fixtures[i]
		if x.node == network.None {
			continue
		}
		sewer := metres(v.d.Building.SewerInvert)
		if to := v.endOf[x.node]; sewer == nil && to.connection != network.None {
			sewer = metres(v.d.Connections[v.n.Nodes[to.connection].Item].Invert)
		}
		g := &v.gravity[i]
		if t := x.f.Trap; t != nil && sewer != nil {
			if weir := metres(t.Weir); weir != nil {
				g.available = toMillionths(sub(weir, sewer))
				v.recordFall(x.f.ID, "fall_available", "fall_available", weir, sewer, sub(weir, sewer))
			}
		}
		distance := nanometres(v.d.Building.SewerDistance)
		if distance == unknown {
			distance = lengths[x.node]
		}
		if slope, ok := v.leastSlope(x); ok && distance >= 0 {
			fall := ofNanometres(distance)
			least := big.NewRat(slope, ratioScale)
			needed := new(rat).Mul(fall, least)
			g.needed = toMillionths(needed)
			v.recordFall(x.f.ID, "fall_needed", "fall_needed", fall, least, needed)
		}
	}
}

func (v *derivation) recordFall(id, formula, fact string, a, b, result *rat) {
	if v.rec == nil {
		return
	}
	x, _ := a.Float64()
	y, _ := b.Float64()
	r, _ := result.Float64()
	v.rec.Step(calcs.Raw{Formula: formula, Subject: id, Fact: fact, Values: []float64{x, y}, Result: r})
}

func (v *derivation) leastSlope(x *fixture) (int64, bool) {
	var dn int64
	if e := v.n.Nodes[x.node].Outlet; e != network.None {
		dn = v.pipes[e].dn
	}
	if dn == 0 && x.f.Trap != nil {
		dn = x.f.Trap.Size.Fixed()
	}
	if dn == 0 {
		return 0, false
	}
	return v.t.MinSlope(dn)
}

// toConnection is the developed length from every node to the connection its
// waste reaches by gravity, unknown where it reaches none.
func (v *derivation) toConnection() []int64 {
	lengths := make([]int64, len(v.n.Nodes))
	order := v.n.Order()
	for i := len(order) - 1; i >= 0; i-- {
		at := order[i]
		lengths[at] = unknown
		if v.n.Nodes[at].Kind == network.Connection {
			lengths[at] = 0
		} else if q := v.outDrain(at); q != nil {
			lengths[at] = plus(lengths[q.edge.To], q.length)
		}
	}
	return lengths
}

// couldFall counts the fixtures of a basin that could reach the sewer by
// gravity, nil where it is not known of one of them.
func (v *derivation) couldFall(basin int) *int64 {
	if v.fallByBasin == nil {
		v.fallByBasin = map[int]*int64{}
		unknownAt := map[int]bool{}
		for i := range v.fixtures {
			x := &v.fixtures[i]
			if x.node == network.None {
				continue
			}
			b := v.endOf[x.node].basin
			could := v.gravity[i].could()
			if b == network.None || could == nil {
				unknownAt[b] = true
				continue
			}
			if v.fallByBasin[b] == nil {
				v.fallByBasin[b] = new(int64)
			}
			if *could {
				*v.fallByBasin[b]++
			}
		}
		for b := range unknownAt {
			delete(v.fallByBasin, b)
		}
	}
	if v.nodes[basin].sums.gravityFixtures == 0 {
		return ptr(int64(0))
	}
	return copied(v.fallByBasin[basin])
}
