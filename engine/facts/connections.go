package facts

import (
	"backpitch/engine/design"
	"backpitch/engine/network"
)

// connectionLie: as stated; a stack stands, and building drain and sewer are
// horizontal (definitions of the model codes, from memory).
func connectionLie(c *design.Connection) string {
	switch {
	case c.Lie != "":
		return c.Lie
	case c.Kind == stack:
		return vertical
	case c.Kind == buildingDrain || c.Kind == buildingSewer:
		return horizontal
	}
	return ""
}

// connectionLoad is existing and added load together, nil where one is not known.
func (v *derivation) connectionLoad(node int) *int64 { return v.connectionLoads(node)[expected] }

// connectionLoads is the same at each end of the pumps.
func (v *derivation) connectionLoads(node int) (total spread) {
	existing := v.statedLoad(v.d.Connections[v.n.Nodes[node].Item].Load)
	for end, added := range v.nodes[node].sums.totals() {
		if existing != nil && added != nil && *existing >= 0 && *existing <= mostLoad {
			total[end] = ptr(*existing + *added)
		}
	}
	return total
}

func (v *derivation) connections() {
	for i := range v.n.Nodes {
		n := &v.n.Nodes[i]
		if n.Kind != network.Connection {
			continue
		}
		c, s := &v.d.Connections[n.Item], &v.nodes[i].sums
		dn := c.Size.Fixed()
		o := Connection{
			ID: c.ID, Kind: c.Kind, Lie: connectionLie(c), Size: sizeKey(dn), DN: some(dn), Slope: fixed(c.Slope.Value),
			ExistingLoad: v.statedLoad(c.Load), AddedLoad: s.total(), TotalLoad: v.connectionLoad(i),
			WaterClosets: s.closets, Gravity: len(n.DrainIn) > 0, Pumped: len(n.PumpedIn) > 0, Intervals: count(c.Intervals),
		}
		if c.Closets != nil {
			o.WaterClosets += int64(*c.Closets)
		}
		v.inflow(n, &o)
		v.facts.Connections = append(v.facts.Connections, o)
	}
}

// inflow: the largest drain that ends at a connection, and how the lowest one
// arrives over the connection's invert.
func (v *derivation) inflow(n *network.Node, o *Connection) {
	var largest int64
	var lowest *rat
	sizes, inverts := true, true
	for _, list := range [2][]int{n.DrainIn, n.PumpedIn} {
		for _, e := range list {
			sizes = sizes && v.pipes[e].dn != 0
			largest = max(largest, v.pipes[e].dn)
		}
	}
	for _, e := range n.DrainIn {
		inverts = inverts && v.pipes[e].to != nil
		lowest = lower(lowest, v.pipes[e].to)
	}
	if sizes {
		o.LargestDN = some(largest)
	}
	if at := metres(v.d.Connections[n.Item].Invert); at != nil && inverts && lowest != nil {
		o.DrainHeight = toMillionths(sub(lowest, at))
	}
}
