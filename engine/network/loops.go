package network

import (
	"slices"
	"strings"

	"backpitch/engine/design"
)

// plane is the part of the graph that must be free of loops by itself. Waste
// is drains, pumped pipes and lifts; air is vents.
type plane uint8

const (
	waste plane = iota
	air
)

func (p plane) has(s Service) bool { return (s == Vent) == (p == air) }

// maxLoops and maxMembers bound what is said about loops; what is left out is counted.
const (
	maxLoops   = 20
	maxMembers = 40
)

// cutLoops finds the pipe that closes each loop by a depth-first walk from the
// smallest id, without recursion, reports the loop and cuts the pipe. What
// remains has no loop.
func (b *builder) cutLoops(p plane) {
	n := b.n
	out := make([][]int, len(n.Nodes))
	for i, e := range n.Edges {
		if !b.cut[i] && p.has(e.Service) {
			out[e.From] = append(out[e.From], i)
		}
	}
	const (
		unseen = iota
		open   // on the present path
		done
	)
	state := make([]uint8, len(n.Nodes))
	at := make([]int, len(n.Nodes)) // depth of an open node on the path
	next := make([]int, len(n.Nodes))
	var path, via []int // nodes, and the edge into each (None for the first)
	found := 0
	for root := range n.Nodes {
		if state[root] != unseen {
			continue
		}
		path, via = append(path[:0], root), append(via[:0], None)
		state[root], at[root] = open, 0
		for len(path) > 0 {
			node := path[len(path)-1]
			if next[node] == len(out[node]) {
				state[node] = done
				path, via = path[:len(path)-1], via[:len(via)-1]
				continue
			}
			e := out[node][next[node]]
			next[node]++
			to := n.Edges[e].To
			switch state[to] {
			case unseen:
				state[to], at[to] = open, len(path)
				path, via = append(path, to), append(via, e)
			case open:
				b.cut[e] = true
				found++
				if found <= maxLoops {
					members := append(slices.Clone(via[at[to]+1:]), e)
					b.reportLoop(p, members)
				}
			}
		}
	}
	if found > maxLoops {
		b.problem(design.Position{}, "loop", "%d more loops are not listed", "", found-maxLoops)
	}
}

// reportLoop names the members in order of flow, from the pipe with the
// smallest id round to the same pipe.
func (b *builder) reportLoop(p plane, edges []int) {
	n := b.n
	start := None
	for i, e := range edges {
		if n.Edges[e].Service != Lift && (start == None || n.Edges[e].ID < n.Edges[edges[start]].ID) {
			start = i
		}
	}
	if start == None {
		start = 0
	}
	edges = append(slices.Clone(edges[start:]), edges[:start]...)
	var words []string
	for _, e := range edges {
		if n.Edges[e].Service != Lift {
			words = append(words, n.Edges[e].ID)
		}
		words = append(words, n.Nodes[n.Edges[e].To].ID)
	}
	words = append(words, n.Edges[edges[0]].ID)
	if len(words) > maxMembers {
		half := maxMembers / 2
		words = slices.Concat(words[:half], []string{"…"}, words[len(words)-half:])
	}
	what := "drains"
	if p == air {
		what = "vents"
	}
	at := b.d.Pipes[n.Edges[edges[0]].Item].Position
	b.problem(at, "loop", "%s form a loop: %s", "turn the pipe that runs against the flow round", what, strings.Join(words, " → "))
}
