package network_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"backpitch/engine/design"
	"backpitch/engine/finding"
	"backpitch/engine/network"
)

// FuzzBuild draws designs of at most 64 elements from bytes, with ids that
// collide, lead nowhere and form loops. Whatever comes out: the graph has one
// way out of every element and no loop, its orders are topological, Reach and
// Path say what a naive search says, every loop that is reported stands in the
// design, and nothing changes with the order of the pipes.
func FuzzBuild(f *testing.F) {
	f.Add([]byte{})
	for _, lines := range []string{
		house,
		"junction j1\njunction j2\ndrain b1 j1 j2\ndrain b3 j2 j1",
		"basin s\npump p s\njunction j\npumped a p j\ndrain b j s",
		"junction j1\njunction j2\nvent v1 j1 j2\nvent v2 j2 j1",
		"fixture f\njunction j\nconnection c\nconnection e\ndrain b1 f j\ndrain b3 j e\ndrain b2 j c",
		"fixture f\nbasin s\npump p s\njunction j\nconnection c\npumped m p j\npumped n j c\ndrain b f j",
		"fixture f\njunction j\njunction k b\ndrain b f j",
		"junction j\ndrain b j j\nvent v j j",
	} {
		f.Add(codeOf(f, lines))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		d := drawn(data)
		n, problems := network.Build(d)
		checkGraph(t, d, n)
		checkSearches(t, n)
		checkProblems(t, d, problems)
		if !unique(d) {
			return // the first in the file keeps its id: order matters
		}
		slices.Reverse(d.Pipes)
		slices.Reverse(d.Junctions)
		slices.Reverse(d.Pumps)
		n2, problems2 := network.Build(d)
		if diff := cmp.Diff(edgesOf(n), edgesOf(n2)); diff != "" {
			t.Errorf("edges change with the order in the file (-want +got):\n%s", diff)
		}
		if diff := cmp.Diff(n.Order(), n2.Order()); diff != "" {
			t.Errorf("order changes with the file (-want +got):\n%s", diff)
		}
		if len(problems) != len(problems2) {
			t.Errorf("problems change with the order in the file: %v, %v", problems, problems2)
		}
	})
}

// Each element takes three bytes: what it is, and two numbers that name it, its
// ends or what it belongs to. Nodes count from 0 as they come, 12 of them have
// a name at most, so that names collide; the others lead nowhere.
const (
	nodeNames = 12
	mostBytes = 3 * 64
)

var drawnKinds = []string{"fixture", "indirect", "junction", "run", "terminal", "basin", "pump", "connection", "drain", "drain", "drain", "vent", "vent", "pumped", "pumped", "again"}

func drawn(data []byte) *design.Document {
	d := &design.Document{}
	name := func(b byte) string { return fmt.Sprintf("n%02d", int(b)%(nodeNames+2)) }
	data = data[:min(len(data), mostBytes)]
	for i := 0; i+2 < len(data); i += 3 {
		a, b := data[i+1], data[i+2]
		at := design.Position{Line: i/3 + 1, Col: 5}
		pipe := design.Pipe{ID: fmt.Sprintf("p%02d", i/3), Service: drawnKinds[data[i]%16], From: name(a), To: name(b), Position: at}
		switch kind := drawnKinds[data[i]%16]; kind {
		case "fixture", "indirect":
			indirect := kind == "indirect"
			d.Fixtures = append(d.Fixtures, design.Fixture{ID: name(a % nodeNames), Position: at, Indirect: &indirect})
		case "junction":
			d.Junctions = append(d.Junctions, design.Junction{ID: name(a % nodeNames), Position: at})
		case "run":
			d.Junctions = append(d.Junctions, design.Junction{ID: name(a % nodeNames), Position: at, Run: fmt.Sprintf("p%02d", b%65)})
		case "terminal":
			d.Terminals = append(d.Terminals, design.Terminal{ID: name(a % nodeNames), Position: at})
		case "basin":
			d.Basins = append(d.Basins, design.Basin{ID: name(a % nodeNames), Position: at})
		case "pump":
			d.Pumps = append(d.Pumps, design.Pump{ID: name(a % nodeNames), Basin: name(b), Position: at})
		case "connection":
			d.Connections = append(d.Connections, design.Connection{ID: name(a % nodeNames), Position: at})
		case "again": // an id that another pipe or a node has
			pipe.Service = "drain"
			if pipe.ID = fmt.Sprintf("p%02d", a%64); b&64 > 0 {
				pipe.ID = name(a)
			}
			d.Pipes = append(d.Pipes, pipe)
		default:
			d.Pipes = append(d.Pipes, pipe)
		}
	}
	return d
}

// codeOf writes the plan of a test in the bytes that drawn reads.
func codeOf(f *testing.F, lines string) []byte {
	var out []byte
	names := map[string]byte{}
	number := func(word string) byte {
		if _, ok := names[word]; !ok {
			names[word] = byte(len(names))
		}
		return names[word]
	}
	pipes := map[string]byte{} // their line, which is their name
	split := strings.Split(lines, "\n")
	for i, line := range split {
		pipes[strings.Fields(line)[1]] = byte(i)
	}
	for _, line := range split {
		word := strings.Fields(line)
		code := byte(slices.Index(drawnKinds, word[0]))
		switch {
		case word[0] == "junction" && len(word) > 2:
			out = append(out, byte(slices.Index(drawnKinds, "run")), number(word[1]), pipes[word[2]])
		case word[0] == "fixture" && len(word) > 2:
			out = append(out, byte(slices.Index(drawnKinds, "indirect")), number(word[1]), 0)
		case word[0] == "pump":
			out = append(out, code, number(word[1]), number(word[2]))
		case len(word) > 3:
			out = append(out, code, number(word[2]), number(word[3]))
		default:
			out = append(out, code, number(word[1]), 0)
		}
	}
	if len(names) > nodeNames {
		f.Fatalf("%d names", len(names))
	}
	return out
}

func unique(d *design.Document) bool {
	seen := map[string]bool{}
	for _, id := range idsOf(d) {
		if seen[id] {
			return false
		}
		seen[id] = true
	}
	return true
}

// idsOf are the ids of all elements, as often as they are given.
func idsOf(d *design.Document) []string {
	var ids []string
	for _, x := range d.Fixtures {
		ids = append(ids, x.ID)
	}
	for _, x := range d.Junctions {
		ids = append(ids, x.ID)
	}
	for _, x := range d.Terminals {
		ids = append(ids, x.ID)
	}
	for _, x := range d.Basins {
		ids = append(ids, x.ID)
	}
	for _, x := range d.Pumps {
		ids = append(ids, x.ID)
	}
	for _, x := range d.Connections {
		ids = append(ids, x.ID)
	}
	for _, x := range d.Pipes {
		ids = append(ids, x.ID)
	}
	return ids
}

func edgesOf(n *network.Network) []string {
	var out []string
	for _, e := range n.Edges {
		out = append(out, fmt.Sprint(e.ID, " ", e.Service, " ", n.Nodes[e.From].ID, " ", n.Nodes[e.To].ID))
	}
	return out
}

// checkGraph holds the graph to itself and to the design.
func checkGraph(t *testing.T, d *design.Document, n *network.Network) {
	t.Helper()
	if !slices.IsSortedFunc(n.Nodes, func(a, b network.Node) int { return strings.Compare(a.ID, b.ID) }) {
		t.Error("nodes are not in order of id")
	}
	for i := range n.Nodes {
		if at, ok := n.Node(n.Nodes[i].ID); !ok || at != i {
			t.Errorf("node %d is found at %d, %v", i, at, ok)
		}
	}
	places := func(order []int) []int {
		place := make([]int, len(n.Nodes))
		for i := range place {
			place[i] = -1
		}
		for i, node := range order {
			place[node] = i
		}
		if len(order) != len(n.Nodes) || slices.Contains(place, -1) {
			t.Fatalf("order %v of %d nodes", order, len(n.Nodes))
		}
		return place
	}
	waste, air := places(n.Order()), places(n.VentOrder())
	outlets := make([]int, len(n.Nodes))
	for i := range n.Edges {
		e := &n.Edges[i]
		from, to := &n.Nodes[e.From], &n.Nodes[e.To]
		place := waste
		if e.Service == network.Vent {
			place = air
		}
		if place[e.From] >= place[e.To] {
			t.Errorf("%s %q runs from %s to %s, against the order", e.Service, e.ID, from.ID, to.ID)
		}
		listed := false
		switch e.Service {
		case network.Lift:
			pump := d.Pumps[to.Item]
			if e.Item != network.None || to.Kind != network.Pump || pump.ID != e.ID || pump.Basin != from.ID || from.Kind != network.Basin {
				t.Errorf("lift %+v from %s to %s is none of the design", e, from.ID, to.ID)
			}
			listed = slices.Contains(from.Lifts, i) && to.Lift == i
		case network.Vent:
			listed = slices.Contains(from.VentOut, i) && slices.Contains(to.VentIn, i)
		case network.Drain:
			listed = from.Outlet == i && slices.Contains(to.DrainIn, i)
		case network.Pumped:
			listed = from.Outlet == i && slices.Contains(to.PumpedIn, i)
		}
		if !listed {
			t.Errorf("%s %q is not listed at its ends", e.Service, e.ID)
		}
		if e.Service == network.Lift {
			continue
		}
		if e.Service != network.Vent {
			outlets[e.From]++
		}
		p := d.Pipes[e.Item]
		if p.ID != e.ID || p.From != from.ID || p.To != to.ID || p.Service != e.Service.String() {
			t.Errorf("edge %+v is not pipe %+v", e, p)
		}
		if at, ok := n.Edge(e.ID); !ok || at != i {
			t.Errorf("edge %q is found at %d, %v, and stands at %d", e.ID, at, ok, i)
		}
	}
	for i, count := range outlets {
		if count > 1 {
			t.Errorf("%s has %d outlets", n.Nodes[i].ID, count)
		}
	}
}

// checkSearches holds Reach and Path against the transitive closure.
func checkSearches(t *testing.T, n *network.Network) {
	t.Helper()
	count := len(n.Nodes)
	closure := func(pumps bool) [][]bool {
		reach := make([][]bool, count)
		for i := range reach {
			reach[i] = make([]bool, count)
			reach[i][i] = true
		}
		for _, e := range n.Edges {
			if e.Service != network.Vent && (pumps || e.Service != network.Lift) {
				reach[e.From][e.To] = true
			}
		}
		for k := range count {
			for i := range count {
				for j := range count {
					reach[i][j] = reach[i][j] || reach[i][k] && reach[k][j]
				}
			}
		}
		return reach
	}
	all, byGravity := closure(true), closure(false)
	for from := range count {
		if got := n.Reach(false, from); !slices.Equal(got, all[from]) {
			t.Errorf("reach of %s = %v, want %v", n.Nodes[from].ID, got, all[from])
		}
		if got := n.Reach(true, from); !slices.Equal(got, byGravity[from]) {
			t.Errorf("reach of %s by gravity = %v, want %v", n.Nodes[from].ID, got, byGravity[from])
		}
		for to := range count {
			path, ok := n.Path(from, to)
			if ok != all[from][to] {
				t.Errorf("path from %s to %s: %v, want %v", n.Nodes[from].ID, n.Nodes[to].ID, ok, all[from][to])
			}
			at := from
			for _, e := range path {
				if n.Edges[e].From != at || n.Edges[e].Service == network.Vent {
					t.Fatalf("path from %s to %s is broken at %q", n.Nodes[from].ID, n.Nodes[to].ID, n.Edges[e].ID)
				}
				at = n.Edges[e].To
			}
			if ok && at != to {
				t.Errorf("the path from %s to %s ends at %s", n.Nodes[from].ID, n.Nodes[to].ID, n.Nodes[at].ID)
			}
		}
	}
	// Several starts are the union of each.
	if count > 1 {
		both := make([]bool, count)
		for i := range both {
			both[i] = all[0][i] || all[count-1][i]
		}
		if got := n.Reach(false, 0, count-1); !slices.Equal(got, both) {
			t.Errorf("reach of two starts = %v, want %v", got, both)
		}
	}
}

// checkProblems wants a place and words of every problem, and every loop that
// is named in the design.
func checkProblems(t *testing.T, d *design.Document, problems []finding.Problem) {
	t.Helper()
	lines := map[int]bool{}
	for i := range d.Pipes {
		lines[d.Pipes[i].Position.Line] = true
	}
	for i := range d.Junctions {
		lines[d.Junctions[i].Position.Line] = true
	}
	for i := range d.Pumps {
		lines[d.Pumps[i].Position.Line] = true
	}
	for _, p := range problems {
		if p.Code == "loop" && strings.HasSuffix(p.Message, "more loops are not listed") {
			continue
		}
		if p.Code == "" || p.Message == "" || !lines[p.Place.Line] {
			t.Errorf("problem %+v", p)
		}
		what, members, ok := strings.Cut(p.Message, " form a loop: ")
		if (p.Code == "loop") != ok {
			t.Fatalf("problem %+v", p)
		}
		if ok {
			checkLoop(t, d, what, strings.Split(members, " → "))
		}
	}
}

// checkLoop walks a loop that is reported: pipes and nodes in turn, from a pipe
// round to itself; after a basin comes a pump of it.
func checkLoop(t *testing.T, d *design.Document, what string, members []string) {
	t.Helper()
	if slices.Contains(members, "…") {
		return // what is left out cannot be walked
	}
	if len(members) < 3 || members[0] != members[len(members)-1] {
		t.Errorf("loop %q does not close", members)
		return
	}
	is := func(id, from, to string) bool {
		return slices.ContainsFunc(d.Pipes, func(p design.Pipe) bool {
			return p.ID == id && (from == "" || p.From == from) && p.To == to && (p.Service == "vent") == (what == "vents")
		})
	}
	lifts := func(pump, basin string) bool {
		return slices.ContainsFunc(d.Pumps, func(p design.Pump) bool { return p.ID == pump && p.Basin == basin })
	}
	from := "" // that of the first pipe is known at the end
	for i := 0; i < len(members)-1; {
		if lifts(members[i], from) {
			from = members[i]
			i++
			continue
		}
		if i+1 >= len(members) || !is(members[i], from, members[i+1]) {
			t.Errorf("%q of the loop %q is no pipe of the %s from %q", members[i], members, what, from)
			return
		}
		from = members[i+1]
		i += 2
	}
	if !is(members[0], from, members[1]) {
		t.Errorf("the loop %q does not come back to its first pipe", members)
	}
}

// TestDrawnReachesEverything holds that the bytes of FuzzBuild can say all that
// the tests of Build do.
func TestDrawnReachesEverything(t *testing.T) {
	codes := map[string]bool{}
	data := make([]byte, mostBytes)
	for seed := range 2000 {
		x := uint32(seed*2654435761 + 1)
		for i := range data {
			x ^= x << 13
			x ^= x >> 17
			x ^= x << 5
			data[i] = byte(x >> 8)
		}
		_, problems := network.Build(drawn(data[:3*(8+seed%56)]))
		for _, p := range problems {
			codes[p.Code] = true
		}
	}
	if got, want := slices.Sorted(maps.Keys(codes)), []string{"dangling_id", "loop", "two_outlets", "wrong_end"}; !slices.Equal(got, want) {
		t.Errorf("problems of %q, want %q", got, want)
	}
}
