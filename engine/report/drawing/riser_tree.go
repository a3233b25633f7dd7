package drawing

import (
	"fmt"
	"strings"
)

// layout is a riser diagram while it is laid out.
type layout struct {
	data   RiserData
	index  map[string]int // node by id
	out    []int          // drain or pumped pipe that leaves a node, -1
	in     [][]int        // drain and pumped pipes that enter, tree only
	vent   []int          // vent pipe that starts at a node, -1
	ventIn [][]int        // vent pipes that end at a node
	host   []int          // of a basin: the pump whose line stands for it, -1
	roots  []int
	size   []int // fixtures that drain through a node
	drawn  []bool
	reason []string // why a pipe is not in a tree
	loose  []int    // pipes that are drawn in no tree

	target  map[int]float64 // storey: the row its branches stand on
	reached map[int]float64
	spoiled map[int]bool // storeys whose rows differ
}

func newLayout(d RiserData) *layout {
	n := len(d.Nodes)
	l := &layout{data: d, index: make(map[string]int, n), out: make([]int, n), in: make([][]int, n), vent: make([]int, n),
		ventIn: make([][]int, n), host: make([]int, n), size: make([]int, n),
		drawn: make([]bool, len(d.Pipes)), reason: make([]string, len(d.Pipes))}
	for i, node := range d.Nodes {
		l.out[i], l.vent[i], l.host[i] = -1, -1, -1
		if _, twice := l.index[node.ID]; !twice {
			l.index[node.ID] = i
		}
	}
	for i := range d.Pipes {
		if d.Pipes[i].Service != Vent {
			l.linkDrain(i)
		}
	}
	l.linkPumps()
	for i := range d.Pipes {
		if d.Pipes[i].Service == Vent {
			l.linkVent(i)
		}
	}
	l.findRoots()
	return l
}

// ends finds both nodes of a pipe.
func (l *layout) ends(i int) (from, to int, ok bool) {
	p := l.data.Pipes[i]
	from, okFrom := l.index[p.From]
	to, okTo := l.index[p.To]
	switch {
	case !okFrom:
		l.reason[i] = fmt.Sprintf("there is no %q", p.From)
	case !okTo:
		l.reason[i] = fmt.Sprintf("there is no %q", p.To)
	}
	return from, to, okFrom && okTo
}

func (l *layout) linkDrain(i int) {
	from, to, ok := l.ends(i)
	switch {
	case !ok:
	case l.out[from] >= 0:
		l.reason[i] = fmt.Sprintf("%q already flows another way", l.data.Pipes[i].From)
	default:
		l.out[from] = i
		l.in[to] = append(l.in[to], i)
	}
}

// linkPumps lets the first pump with a line stand for its basin.
func (l *layout) linkPumps() {
	for i, n := range l.data.Nodes {
		if n.Kind != Pump || l.out[i] < 0 {
			continue
		}
		if b, ok := l.index[n.In]; ok && l.data.Nodes[b].Kind == Basin && l.host[b] < 0 && l.out[b] < 0 {
			l.host[b] = i
		}
	}
}

// hosted returns the basin that a pump stands for, or -1.
func (l *layout) hosted(pump int) int {
	if l.data.Nodes[pump].Kind != Pump {
		return -1
	}
	if b, ok := l.index[l.data.Nodes[pump].In]; ok && l.host[b] == pump {
		return b
	}
	return -1
}

func terminal(k NodeKind) bool { return k == RoofVent || k == WallVent || k == AirValve }

// linkVent keeps the vents that end at a terminal or at a node of vents alone.
func (l *layout) linkVent(i int) {
	from, to, ok := l.ends(i)
	if !ok {
		return
	}
	k := l.data.Nodes[to].Kind
	switch {
	case l.vent[from] >= 0:
		l.reason[i] = fmt.Sprintf("a second vent starts at %q", l.data.Pipes[i].From)
	case !terminal(k) && (k != Junction || l.out[to] >= 0 || len(l.in[to]) > 0):
		l.reason[i] = fmt.Sprintf("it ends at %q, which carries drainage", l.data.Pipes[i].To)
	case l.data.Nodes[from].Kind == Fixture:
		l.reason[i] = "it starts at a fixture, before any drain"
	default:
		l.vent[from] = i
		l.ventIn[to] = append(l.ventIn[to], i)
	}
}

// findRoots collects the ends of drainage, in the order of the nodes, and
// counts the fixtures behind every node.
func (l *layout) findRoots() {
	for i, n := range l.data.Nodes {
		switch {
		case terminal(n.Kind), l.out[i] >= 0:
		case n.Kind == Basin && l.host[i] >= 0, n.Kind == Pump && l.hosted(i) < 0 && n.In != "":
		case n.Kind == Junction && len(l.in[i]) == 0:
		default:
			l.roots = append(l.roots, i)
		}
	}
	seen := make([]bool, len(l.data.Nodes))
	for _, r := range l.roots {
		l.count(r, seen)
	}
}

// count fills size in post-order without recursion on long chains.
func (l *layout) count(root int, seen []bool) {
	order := []int{root}
	for k := 0; k < len(order); k++ {
		i := order[k]
		seen[i] = true
		for _, p := range l.enters(i) {
			order = append(order, l.index[l.data.Pipes[p].From])
		}
	}
	for k := len(order) - 1; k >= 0; k-- {
		i := order[k]
		if l.data.Nodes[i].Kind == Fixture {
			l.size[i]++
		}
		for _, p := range l.enters(i) {
			l.size[i] += l.size[l.index[l.data.Pipes[p].From]]
		}
	}
}

// enters are the pipes that enter a node, a pump's basin included.
func (l *layout) enters(i int) []int {
	if b := l.hosted(i); b >= 0 {
		return append(append([]int{}, l.in[i]...), l.in[b]...)
	}
	return l.in[i]
}

func (l *layout) fixtures(i int) int { return l.size[i] }

func (l *layout) from(p int) int { return l.index[l.data.Pipes[p].From] }

// straight picks the pipe that goes on in the direction of the node's outlet:
// the stated run, else the one with most fixtures behind it.
func (l *layout) straight(n int, list []int) (run int, rest []int) {
	run = -1
	for _, p := range list {
		switch {
		case run >= 0 && l.data.Pipes[run].ID == l.data.Nodes[n].Run:
		case run < 0, l.data.Pipes[p].ID == l.data.Nodes[n].Run, l.size[l.from(p)] > l.size[l.from(run)]:
			run = p
		}
	}
	for _, p := range list {
		if p != run {
			rest = append(rest, p)
		}
	}
	return run, rest
}

// storeyOf is the storey all fixtures behind a pipe stand on, if one.
func (l *layout) storeyOf(p int) (int, bool) {
	found, storey := false, 0
	order := []int{l.from(p)}
	for k := 0; k < len(order); k++ {
		n := l.data.Nodes[order[k]]
		if n.Kind == Fixture {
			if n.Storey == nil || found && *n.Storey != storey {
				return 0, false
			}
			found, storey = true, *n.Storey
		}
		for _, q := range l.in[order[k]] {
			order = append(order, l.from(q))
		}
	}
	return storey, found
}

// looseTexts says which pipes are in no tree, and why.
func (l *layout) looseTexts() []string {
	var out []string
	for _, i := range l.loose {
		p := l.data.Pipes[i]
		why := l.reason[i]
		if why == "" {
			why = "it leads round in a loop or to nothing"
		}
		out = append(out, words(" ", string(p.Service), p.ID, strings.TrimSpace(p.Size), "from", p.From, "to", p.To)+": "+why)
	}
	return out
}
