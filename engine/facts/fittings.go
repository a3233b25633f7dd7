package facts

import (
	"slices"
	"strconv"
	"strings"

	"backpitch/engine/network"
)

// place names the n-th thing in a pipe: b3/bend-1.
func place(pipe, what string, n int) string { return pipe + "/" + what + "-" + strconv.Itoa(n+1) }

// fittings writes one fact for every junction of drains and every bend in one.
func (v *derivation) fittings() {
	for i := range v.n.Nodes {
		n := &v.n.Nodes[i]
		out := v.outDrain(i)
		if n.Kind != network.Junction || out == nil && len(n.DrainIn) == 0 {
			continue
		}
		j := &v.d.Junctions[n.Item]
		o := Fitting{
			ID: n.ID, Kind: j.Fitting, Source: "junction", PumpedInlets: int64(len(n.PumpedIn)),
			Double: strings.HasPrefix(j.Fitting, "double_"), BackToBack: is(j.BackToBack),
		}
		for _, e := range n.DrainIn {
			if v.carriesCloset(&v.pipes[e]) {
				o.Closets++
			}
		}
		if out != nil {
			o.DN, o.FixtureDrain = some(out.dn), out.role == fixtureDrain
			o.Changes, o.BranchDN = v.changes(i, out), v.branchSize(i, out)
		}
		v.facts.Fittings = append(v.facts.Fittings, o)
	}
	for i := range v.pipes {
		if q := &v.pipes[i]; q.isDrain() {
			v.bends(q)
		}
	}
}

// carriesCloset: the inlet is the fixture drain of a water closet.
func (v *derivation) carriesCloset(q *pipe) bool {
	only := q.sums.only
	return q.role == fixtureDrain && only >= 0 && v.d.Fixtures[v.n.Nodes[only].Item].Kind == "water_closet"
}

// run is the inflow that goes straight through a junction: as stated, else the
// one that lies as the outflow does, the largest of them, then the smallest
// id. None where no inflow lies so. A run through the body of a fitting makes
// no change of direction; every other inflow enters by a branch.
func (v *derivation) run(node int, out *pipe) int {
	n := &v.n.Nodes[node]
	if j := v.junction(node); j != nil && j.Run != "" {
		if e, ok := v.n.Edge(j.Run); ok && v.pipes[e].edge.To == node {
			return e
		}
	}
	best := network.None
	for _, e := range n.DrainIn {
		q := &v.pipes[e]
		if q.standing() != out.standing() || q.lie == "" {
			continue
		}
		if best == network.None || q.dn > v.pipes[best].dn {
			best = e
		}
	}
	return best
}

// branchSize is the largest size that enters a junction by a branch.
func (v *derivation) branchSize(node int, out *pipe) *int64 {
	var largest int64
	run := v.run(node, out)
	for _, e := range v.n.Nodes[node].DrainIn {
		if e == run {
			continue
		}
		if v.pipes[e].dn == 0 {
			return nil
		}
		largest = max(largest, v.pipes[e].dn)
	}
	return some(largest)
}

// changes lists the changes of direction that branches make at a junction,
// each once, none where all run through; nil where the lie of a pipe is not
// known.
func (v *derivation) changes(node int, out *pipe) *[]string {
	n := &v.n.Nodes[node]
	if out.lie == "" {
		return nil
	}
	changes := []string{}
	run := v.run(node, out)
	for _, e := range n.DrainIn {
		q := &v.pipes[e]
		if q.lie == "" {
			return nil
		}
		if e == run && q.standing() == out.standing() {
			continue
		}
		changes = append(changes, direction(q)+"_to_"+direction(out))
	}
	slices.Sort(changes)
	changes = slices.Compact(changes)
	return &changes
}

// direction is the lie of a pipe for its flow: at 45 degrees it is vertical.
func direction(q *pipe) string {
	if q.standing() {
		return vertical
	}
	return horizontal
}

// bends takes the change of direction as stated, else from the lie of the
// pipe: a bend inside a pipe does not change how it lies.
func (v *derivation) bends(q *pipe) {
	for k := range q.p.Bends {
		b := &q.p.Bends[k]
		o := Fitting{ID: place(q.p.ID, "bend", k), Kind: b.Kind, Source: "bend", DN: some(q.dn), FixtureDrain: q.role == fixtureDrain}
		switch {
		case b.Change != "":
			o.Changes = &[]string{b.Change}
		case q.lie != "":
			o.Changes = &[]string{direction(q) + "_to_" + direction(q)}
		}
		v.facts.Fittings = append(v.facts.Fittings, o)
	}
}
