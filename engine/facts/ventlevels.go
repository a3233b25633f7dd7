package facts

import "backpitch/engine/network"

// ventLevels works out the elevation of both ends of every vent. Known are
// stated ends, stated junction inverts, the inverts of drains and the
// elevations of terminals; from there a vertical vent rises its length, one at
// 45 degrees its length over the root of two, a horizontal one its length
// times its slope. Inverts are taken for the level of the vent whatever its
// size (common practice).
func (v *derivation) ventLevels() {
	level := make([]*rat, len(v.n.Nodes))
	for i := range v.n.Nodes {
		n := &v.n.Nodes[i]
		switch n.Kind {
		case network.Junction:
			level[i] = v.nodes[i].invert
		case network.Terminal:
			level[i] = metres(v.d.Terminals[n.Item].Elevation)
		}
	}
	order := v.n.VentOrder()
	v.levelsUp(level, order)
	for i := len(order) - 1; i >= 0; i-- {
		at := order[i]
		for _, e := range v.n.Nodes[at].VentIn {
			q := &v.pipes[e]
			if level[at] == nil {
				level[at] = q.to
			}
		}
		for _, e := range v.n.Nodes[at].VentIn {
			q := &v.pipes[e]
			if q.to == nil {
				q.to = level[at]
			}
			if rise := v.ownRise(q); q.from == nil && q.to != nil && rise != nil {
				q.from = sub(q.to, rise)
			}
			if from := &level[q.edge.From]; *from == nil {
				*from = q.from
			}
		}
	}
	v.levelsUp(level, order)
	v.ventLies()
}

func (v *derivation) levelsUp(level []*rat, order []int) {
	for _, at := range order {
		for _, e := range v.n.Nodes[at].VentOut {
			q := &v.pipes[e]
			if q.from == nil {
				q.from = level[at]
			}
			if rise := v.ownRise(q); q.to == nil && q.from != nil && rise != nil {
				q.to = add(q.from, rise)
			}
			if to := &level[q.edge.To]; *to == nil {
				*to = q.to
			}
		}
	}
}

// ownRise is the rise of a vent towards the air by its length. Its stated
// slope is the rise that lets water drain back (common practice).
func (v *derivation) ownRise(q *pipe) *rat { return v.ownFall(q) }

// ventLies settles the lie of vents whose two ends have become known.
func (v *derivation) ventLies() {
	for i := range v.pipes {
		q := &v.pipes[i]
		if !q.isVent() || q.lie != "" || q.from == nil || q.to == nil || q.length <= 0 {
			continue
		}
		rise := sub(q.to, q.from)
		twice := new(rat).Mul(rise, rise)
		twice.Add(twice, twice)
		square := ofNanometres(q.length)
		q.lie = horizontal
		if twice.Cmp(square.Mul(square, square)) >= 0 {
			q.lie = vertical
		}
	}
}

// ventSlope is the rise of a horizontal vent for each run: as stated, else by its ends.
func (v *derivation) ventSlope(q *pipe) *int64 {
	switch {
	case q.lie != horizontal:
		return nil
	case q.slope != nil:
		return toMillionths(q.slope)
	case q.from != nil && q.to != nil && q.length > 0:
		rise := sub(q.to, q.from)
		return toMillionths(rise.Quo(rise, ofNanometres(q.length)))
	}
	return nil
}
