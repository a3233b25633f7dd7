// Package network is the graph of a design: which element drains, lifts or
// vents into which.
//
// What enters: a decoded design. What leaves: a Network of nodes (fixtures,
// junctions, terminals, basins, pumps, connections) and edges (pipes, and the
// lift from a basin to each of its pumps), with order, reach and paths; and
// the problems that make the design contradict itself: ids that lead nowhere,
// pipes with an end where they cannot have one, loops, elements with more than
// one outlet. A pipe that takes part in a problem is left out of the graph, so
// that what remains is always free of loops and every element has at most one
// way out. Ids are all it knows: no sizes, no water, no rules. A drain that
// ends at nothing is no problem here; facts say where it leads. Ids given twice
// and pumps, groups and supplies that name nothing are reported by design.Read;
// here they are left out.
package network

import (
	"slices"
	"strings"

	"backpitch/engine/design"
	"backpitch/engine/finding"
)

// Kind is what a node is.
type Kind uint8

// Kinds of node.
const (
	Fixture Kind = iota
	Junction
	Terminal
	Basin
	Pump
	Connection
)

var kindWords = [...]string{"fixture", "junction", "terminal", "basin", "pump", "connection"}

func (k Kind) String() string { return kindWords[k] }

// Service is what an edge carries.
type Service uint8

// Services of an edge. Lift joins a basin to a pump in it and is no pipe.
const (
	Drain Service = iota
	Vent
	Pumped
	Lift
)

var serviceWords = [...]string{"drain", "vent", "pumped", "lift"}

func (s Service) String() string { return serviceWords[s] }

// None is the index of no node or edge.
const None = -1

// Node is one element that pipes join. Lists hold edge indexes in order of
// edge id.
type Node struct {
	ID   string
	Kind Kind
	Item int // place in the design's list of its kind

	Outlet   int   // the drain or pumped pipe that leaves it, or None
	Lifts    []int // basin: lifts to its pumps
	Lift     int   // pump: the lift that feeds it, or None
	DrainIn  []int
	PumpedIn []int
	VentIn   []int
	VentOut  []int
}

// Edge joins two nodes in the direction of flow; vents run towards the air.
type Edge struct {
	ID      string // of the pipe; of the pump for a lift
	Service Service
	From    int
	To      int
	Item    int // place in the design's pipes; None for a lift
}

// Network is the graph. Nodes and Edges are in order of id, whatever the order
// in the file; callers read them and change nothing.
type Network struct {
	Nodes []Node
	Edges []Edge

	nodes map[string]int
	edges map[string]int

	wasteOrder []int
	ventOrder  []int
}

// Node returns the index of the node with this id.
func (n *Network) Node(id string) (int, bool) {
	i, ok := n.nodes[id]
	return i, ok
}

// Edge returns the index of the pipe with this id. A pipe that takes part in a
// problem has none.
func (n *Network) Edge(id string) (int, bool) {
	i, ok := n.edges[id]
	return i, ok
}

// Build makes the network of a design. The network is usable whatever the
// problems; their Place has no file name, which the caller fills in.
func Build(d *design.Document) (*Network, []finding.Problem) {
	b := &builder{d: d, n: &Network{nodes: map[string]int{}, edges: map[string]int{}}}
	b.addNodes()
	b.addEdges()
	b.checkRuns()
	b.checkPumpedStarts()
	b.keepOneOutlet()
	b.cutLoops(waste)
	b.cutLoops(air)
	b.finish()
	sortProblems(b.problems)
	return b.n, b.problems
}

type builder struct {
	d        *design.Document
	n        *Network
	problems []finding.Problem
	cut      []bool // per edge: left out of the graph
	ids      []string
	hints    int // nearest-id searches made
}

func (b *builder) addNodes() {
	d := b.d
	for i := range d.Fixtures {
		b.addNode(d.Fixtures[i].ID, Fixture, i)
	}
	for i := range d.Junctions {
		b.addNode(d.Junctions[i].ID, Junction, i)
	}
	for i := range d.Terminals {
		b.addNode(d.Terminals[i].ID, Terminal, i)
	}
	for i := range d.Basins {
		b.addNode(d.Basins[i].ID, Basin, i)
	}
	for i := range d.Pumps {
		b.addNode(d.Pumps[i].ID, Pump, i)
	}
	for i := range d.Connections {
		b.addNode(d.Connections[i].ID, Connection, i)
	}
	slices.SortStableFunc(b.n.Nodes, func(x, y Node) int { return strings.Compare(x.ID, y.ID) })
	for i := range b.n.Nodes {
		b.n.nodes[b.n.Nodes[i].ID] = i
		b.ids = append(b.ids, b.n.Nodes[i].ID)
	}
}

// addNode leaves out an element whose id is taken; the first in the file keeps it.
func (b *builder) addNode(id string, kind Kind, item int) {
	if _, taken := b.n.nodes[id]; taken {
		return
	}
	b.n.nodes[id] = len(b.n.Nodes)
	b.n.Nodes = append(b.n.Nodes, Node{ID: id, Kind: kind, Item: item, Outlet: None, Lift: None})
}

func (b *builder) addEdges() {
	n := b.n
	for i := range b.d.Pipes {
		p := &b.d.Pipes[i]
		from, okFrom := b.end(p.From, p, "from")
		to, okTo := b.end(p.To, p, "to")
		if !okFrom || !okTo || !b.endsFit(p, from, to) {
			continue
		}
		n.Edges = append(n.Edges, Edge{ID: p.ID, Service: serviceOf(p.Service), From: from, To: to, Item: i})
	}
	for i := range b.d.Pumps {
		p := &b.d.Pumps[i]
		node, ok := n.nodes[p.ID]
		if !ok || n.Nodes[node].Kind != Pump || n.Nodes[node].Item != i {
			continue
		}
		if basin, ok := n.nodes[p.Basin]; ok && n.Nodes[basin].Kind == Basin {
			n.Edges = append(n.Edges, Edge{ID: p.ID, Service: Lift, From: basin, To: node, Item: None})
		}
	}
	slices.SortStableFunc(n.Edges, func(x, y Edge) int { return strings.Compare(x.ID, y.ID) })
	b.dropDuplicatePipes()
	b.cut = make([]bool, len(n.Edges))
}

// dropDuplicatePipes keeps the first pipe of each id, and none whose id a node has.
func (b *builder) dropDuplicatePipes() {
	n := b.n
	kept := n.Edges[:0]
	for _, e := range n.Edges {
		if e.Service == Lift {
			kept = append(kept, e)
			continue
		}
		_, isNode := n.nodes[e.ID]
		if _, taken := n.edges[e.ID]; taken || isNode {
			continue
		}
		n.edges[e.ID] = len(kept)
		kept = append(kept, e)
	}
	n.Edges = kept
}

func serviceOf(word string) Service {
	switch word {
	case "vent":
		return Vent
	case "pumped":
		return Pumped
	default:
		return Drain
	}
}

// finish lists the surviving edges at their nodes and fixes the orders.
func (b *builder) finish() {
	n := b.n
	for i, e := range n.Edges {
		if b.cut[i] {
			delete(n.edges, e.ID)
		}
	}
	kept := n.Edges[:0]
	for i, e := range n.Edges {
		if !b.cut[i] {
			kept = append(kept, e)
		}
	}
	n.Edges = kept
	for i, e := range n.Edges {
		from, to := &n.Nodes[e.From], &n.Nodes[e.To]
		switch e.Service {
		case Drain:
			n.edges[e.ID] = i
			from.Outlet = i
			to.DrainIn = append(to.DrainIn, i)
		case Pumped:
			n.edges[e.ID] = i
			from.Outlet = i
			to.PumpedIn = append(to.PumpedIn, i)
		case Vent:
			n.edges[e.ID] = i
			from.VentOut = append(from.VentOut, i)
			to.VentIn = append(to.VentIn, i)
		case Lift:
			from.Lifts = append(from.Lifts, i)
			to.Lift = i
		}
	}
	n.wasteOrder = n.order(waste)
	n.ventOrder = n.order(air)
}
