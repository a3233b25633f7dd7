package network_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"backpitch/engine/design"
	"backpitch/engine/network"
)

// plan is a design in short: "id: from > to" drains, "~" vents, "!" pumped.
func plan(t *testing.T, lines string) *design.Document {
	t.Helper()
	d := &design.Document{}
	for i, line := range strings.Split(strings.TrimSpace(lines), "\n") {
		at := design.Position{Line: i + 1, Col: 5}
		word := strings.Fields(line)
		switch word[0] {
		case "fixture":
			indirect := len(word) > 2
			d.Fixtures = append(d.Fixtures, design.Fixture{ID: word[1], Position: at, Indirect: &indirect})
		case "junction":
			j := design.Junction{ID: word[1], Position: at}
			if len(word) > 2 {
				j.Run = word[2]
			}
			d.Junctions = append(d.Junctions, j)
		case "terminal":
			d.Terminals = append(d.Terminals, design.Terminal{ID: word[1], Position: at})
		case "basin":
			d.Basins = append(d.Basins, design.Basin{ID: word[1], Position: at})
		case "pump":
			d.Pumps = append(d.Pumps, design.Pump{ID: word[1], Basin: word[2], Position: at})
		case "connection":
			d.Connections = append(d.Connections, design.Connection{ID: word[1], Position: at})
		case "drain", "vent", "pumped":
			d.Pipes = append(d.Pipes, design.Pipe{ID: word[1], Service: word[0], From: word[2], To: word[3], Position: at})
		default:
			t.Fatalf("line %d: %q", i+1, line)
		}
	}
	return d
}

func TestProblems(t *testing.T) {
	tests := []struct {
		name, lines string
		want        []string
	}{
		{"sound", "fixture f\njunction j\nconnection c\nterminal t\ndrain b1 f j\ndrain b2 j c\nvent v j t", nil},
		{"dangling", "fixture sink\njunction tee-1\ndrain b1 sink tee-2", []string{
			`3:5 dangling_id pipe "b1": to names "tee-2", which is no element's id | the nearest id is "tee-1"`}},
		{"loop", "junction j1\njunction j2\ndrain b1 j1 j2\ndrain b3 j2 j1", []string{
			"3:5 loop drains form a loop: b1 → j2 → b3 → j1 → b1"}},
		{"self loop", "junction j1\ndrain b1 j1 j1", []string{"2:5 loop drains form a loop: b1 → j1 → b1"}},
		{"loop through a pump", "basin s\npump p s\njunction j\npumped a p j\ndrain b j s", []string{
			"4:5 loop drains form a loop: a → j → b → s → p → a"}},
		{"vent loop", "junction j1\njunction j2\nvent v1 j1 j2\nvent v2 j2 j1", []string{
			"3:5 loop vents form a loop: v1 → j2 → v2 → j1 → v1"}},
		{"drain and vent are no loop", "fixture f\njunction j1\njunction j2\nconnection c\ndrain a f j1\ndrain b j1 j2\ndrain d j2 c\nvent v j2 j1", nil},
		{"two outlets", "fixture f\njunction j\nconnection c\nconnection e\ndrain b1 f j\ndrain b3 j e\ndrain b2 j c", []string{
			`6:5 two_outlets junction "j" has two outlets: "b2" and "b3"`}},
		{"parallel drains are two outlets", "fixture f\njunction j\ndrain b1 f j\ndrain b2 f j", []string{
			`4:5 two_outlets fixture "f" has two outlets: "b1" and "b2"`}},
		{"parallel vents", "junction j\nterminal t\nvent v1 j t\nvent v2 j t", nil},
		{"from a terminal", "terminal t\njunction j\ndrain b t j", []string{
			`3:5 wrong_end drain pipe "b" starts at terminal "t"; it can start at a fixture or a junction`}},
		{"vent into a fixture", "fixture f\njunction j\nvent v j f", []string{
			`3:5 wrong_end vent pipe "v" ends at fixture "f"; it can end at a junction or a terminal`}},
		{"vent into a basin", "basin s\njunction j\nvent v j s", []string{
			`3:5 wrong_end vent pipe "v" ends at basin "s"; it can end at a junction or a terminal`}},
		{"pumped from a fixture", "fixture f\nconnection c\npumped m f c", []string{
			`3:5 wrong_end pumped pipe "m" starts at fixture "f"; it can start at a pump or a junction of a pumped line`}},
		{"pumped from nowhere", "junction j\nconnection c\npumped m j c", []string{
			`3:5 wrong_end pumped pipe "m" starts at junction "j", which no pumped pipe reaches`}},
		{"gravity into a pumped line", "fixture f\nbasin s\npump p s\njunction j\nconnection c\npumped m p j\npumped n j c\ndrain b f j", []string{
			`7:5 wrong_end pumped pipe "n" starts at junction "j", into which drain "b" runs`}},
		{"direct waste into a fixture", "fixture f\nfixture g\ndrain b f g", []string{
			`3:5 wrong_end drain pipe "b" ends at fixture "g"; it can end at a junction, a basin or a connection`}},
		{"indirect waste into a fixture", "fixture f indirect\nfixture g\ndrain b f g", nil},
		{"run elsewhere", "fixture f\njunction j\njunction k b\ndrain b f j", []string{
			`3:5 wrong_end junction "k" names pipe "b" as its run; that pipe ends at "j"`}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, problems := network.Build(plan(t, tt.lines))
			var got []string
			for _, p := range problems {
				s := fmt.Sprintf("%d:%d %s %s", p.Place.Line, p.Place.Col, p.Code, p.Message)
				if p.Code == "dangling_id" {
					s += " | " + p.Hint
				}
				got = append(got, s)
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("problems (-want +got):\n%s", diff)
			}
		})
	}
}

// house is three fixtures to a basin, pumped to a connection.
const house = "fixture a\nfixture b\nfixture c\njunction j1\njunction j2\nbasin s\npump p1 s\npump p2 s\njunction y\nconnection out\n" +
	"drain d1 a j1\ndrain d2 b j1\ndrain d3 j1 j2\ndrain d4 c j2\ndrain d5 j2 s\npumped m1 p1 y\npumped m2 p2 y\npumped m3 y out"

func TestOrderIsTopologicalAndIndependentOfTheFile(t *testing.T) {
	d := plan(t, house)
	n, problems := network.Build(d)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	place := map[int]int{}
	var ids []string
	for i, node := range n.Order() {
		place[node] = i
		ids = append(ids, n.Nodes[node].ID)
	}
	for _, e := range n.Edges {
		if place[e.From] >= place[e.To] {
			t.Errorf("%s stands before %s", n.Nodes[e.To].ID, n.Nodes[e.From].ID)
		}
	}
	// By hand: of those whose inflows are all there, always the smallest id.
	want := []string{"a", "b", "c", "j1", "j2", "s", "p1", "p2", "y", "out"}
	if diff := cmp.Diff(want, ids); diff != "" {
		t.Errorf("order (-want +got):\n%s", diff)
	}
	r := rand.New(rand.NewPCG(1, 2))
	for range 20 {
		r.Shuffle(len(d.Pipes), func(i, j int) { d.Pipes[i], d.Pipes[j] = d.Pipes[j], d.Pipes[i] })
		r.Shuffle(len(d.Junctions), func(i, j int) { d.Junctions[i], d.Junctions[j] = d.Junctions[j], d.Junctions[i] })
		r.Shuffle(len(d.Pumps), func(i, j int) { d.Pumps[i], d.Pumps[j] = d.Pumps[j], d.Pumps[i] })
		m, _ := network.Build(d)
		if diff := cmp.Diff(n.Order(), m.Order()); diff != "" {
			t.Fatalf("order changes with the file (-want +got):\n%s", diff)
		}
	}
}

func TestPathsAndReach(t *testing.T) {
	n, _ := network.Build(plan(t, house))
	node := func(id string) int {
		i, ok := n.Node(id)
		if !ok {
			t.Fatalf("no node %q", id)
		}
		return i
	}
	path, ok := n.Path(node("a"), node("out"))
	if !ok {
		t.Fatal("no path from a to out")
	}
	var ids []string
	for _, e := range path {
		ids = append(ids, n.Edges[e].ID)
	}
	if diff := cmp.Diff([]string{"d1", "d3", "d5", "p1", "m1", "m3"}, ids); diff != "" {
		t.Errorf("path (-want +got):\n%s", diff)
	}
	if _, ok := n.Path(node("out"), node("a")); ok {
		t.Error("a path leads upstream")
	}
	if path, ok := n.Path(node("a"), node("a")); !ok || len(path) != 0 {
		t.Errorf("path from a to itself = %v, %v", path, ok)
	}
	length := map[string]int64{"d1": 25_400_000, "d3": 304_800_000, "d5": 1}
	get := func(e int) (int64, bool) { l, ok := length[n.Edges[e].ID]; return l, ok }
	to, _ := n.Path(node("a"), node("s"))
	if got, ok := n.Developed(to, get); !ok || got != 330_200_001 {
		t.Errorf("developed length = %d, %v, want 330200001", got, ok)
	}
	if _, ok := n.Developed(path, get); ok {
		t.Error("a developed length is given though one length is unknown")
	}
	byGravity, all := n.Reach(true, node("a")), n.Reach(false, node("a"))
	if byGravity[node("out")] || !byGravity[node("s")] || !all[node("out")] || all[node("b")] {
		t.Errorf("reach by gravity %v, in all %v", byGravity, all)
	}
}

func chain(pipes int) *design.Document {
	d := &design.Document{Fixtures: []design.Fixture{{ID: "f"}}, Connections: []design.Connection{{ID: "out"}}}
	from := "f"
	for i := range pipes - 1 {
		id := fmt.Sprintf("j%06d", i)
		d.Junctions = append(d.Junctions, design.Junction{ID: id})
		d.Pipes = append(d.Pipes, design.Pipe{ID: fmt.Sprintf("b%06d", i), Service: "drain", From: from, To: id})
		from = id
	}
	d.Pipes = append(d.Pipes, design.Pipe{ID: "last", Service: "drain", From: from, To: "out"})
	return d
}

func TestLongChain(t *testing.T) {
	d := chain(100_000)
	start := time.Now()
	n, problems := network.Build(d)
	if len(problems) > 0 || len(n.Order()) != 100_001 {
		t.Fatalf("problems %v, order of %d", problems, len(n.Order()))
	}
	if took := time.Since(start); took > 20*time.Second {
		t.Errorf("a chain of 100,000 pipes took %v", took)
	}
}

func TestLongLoopIsCutShort(t *testing.T) {
	d := chain(5000)
	d.Pipes[0].From = d.Junctions[len(d.Junctions)-1].ID // a ring of all junctions
	d.Pipes = d.Pipes[:len(d.Pipes)-1]
	n, problems := network.Build(d)
	if len(problems) != 1 || problems[0].Code != "loop" {
		t.Fatalf("problems = %v", problems)
	}
	if m := problems[0].Message; !strings.Contains(m, " → … → ") || len(m) > 1000 {
		t.Errorf("message of %d bytes: %.80s", len(m), m)
	}
	if len(n.Order()) != len(n.Nodes) {
		t.Error("a loop is left in the order")
	}
}

func BenchmarkBuild(b *testing.B) {
	for _, pipes := range []int{50, 5000} {
		d := chain(pipes)
		b.Run(fmt.Sprint(pipes), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				network.Build(d)
			}
		})
	}
}
