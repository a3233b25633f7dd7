package network

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/agnivade/levenshtein"

	"backpitch/engine/design"
	"backpitch/engine/finding"
)

// maxHints bounds the nearest-id searches, each of which looks at every id.
const maxHints = 20

func (b *builder) problem(at design.Position, code, format, hint string, args ...any) {
	b.problems = append(b.problems, finding.Problem{
		Place:   finding.Place{Line: at.Line, Col: at.Col, Pointer: at.Pointer},
		Code:    code,
		Message: fmt.Sprintf(format, args...),
		Hint:    hint,
	})
}

func sortProblems(ps []finding.Problem) {
	slices.SortStableFunc(ps, func(x, y finding.Problem) int {
		return cmp.Or(
			cmp.Compare(x.Place.Line, y.Place.Line),
			cmp.Compare(x.Place.Col, y.Place.Col),
			strings.Compare(x.Code, y.Code),
			strings.Compare(x.Message, y.Message),
		)
	})
}

// dangling reports a reference to an id that no element has.
func (b *builder) dangling(at design.Position, kind, id, field, ref string, among []string) {
	hint := ""
	if b.hints < maxHints {
		b.hints++
		if near, ok := nearest(ref, among); ok {
			hint = fmt.Sprintf("the nearest id is %q", near)
		}
	}
	b.problem(at, "dangling_id", "%s %q: %s names %q, which is no element's id", hint, kind, id, field, ref)
}

func (b *builder) end(ref string, p *design.Pipe, field string) (int, bool) {
	i, ok := b.n.nodes[ref]
	if !ok {
		b.dangling(p.Position, "pipe", p.ID, field, ref, b.ids)
	}
	return i, ok
}

// endsFit says whether a pipe of this service may start and end where it does.
func (b *builder) endsFit(p *design.Pipe, from, to int) bool {
	a, z := b.n.Nodes[from], b.n.Nodes[to]
	var startOK, endOK bool
	var start, end string // what fits, in words
	switch serviceOf(p.Service) {
	case Drain:
		startOK = a.Kind == Fixture || a.Kind == Junction
		endOK = z.Kind == Junction || z.Kind == Basin || z.Kind == Connection || z.Kind == Fixture && b.indirect(a)
		start, end = "a fixture or a junction", "a junction, a basin or a connection"
	case Vent:
		startOK = a.Kind == Junction || a.Kind == Basin
		endOK = z.Kind == Junction || z.Kind == Terminal
		start, end = "a junction or a basin", "a junction or a terminal"
	case Pumped:
		startOK = a.Kind == Pump || a.Kind == Junction
		endOK = z.Kind == Junction || z.Kind == Basin || z.Kind == Connection
		start, end = "a pump or a junction of a pumped line", "a junction, a basin or a connection"
	}
	if !startOK {
		b.problem(p.Position, "wrong_end", "%s pipe %q starts at %s %q; it can start at %s", "pipes run in the direction of flow, vents towards the open air",
			serviceOf(p.Service), p.ID, a.Kind, a.ID, start)
	}
	if !endOK {
		b.problem(p.Position, "wrong_end", "%s pipe %q ends at %s %q; it can end at %s", "pipes run in the direction of flow, vents towards the open air",
			serviceOf(p.Service), p.ID, z.Kind, z.ID, end)
	}
	return startOK && endOK
}

// indirect: only indirect waste may empty into another fixture.
func (b *builder) indirect(n Node) bool {
	if n.Kind != Fixture {
		return false
	}
	is := b.d.Fixtures[n.Item].Indirect
	return is != nil && *is
}

func (b *builder) checkRuns() {
	for i := range b.d.Junctions {
		b.checkRun(&b.d.Junctions[i])
	}
}

// checkRun looks at the pipe that a junction names as going straight through.
func (b *builder) checkRun(j *design.Junction) {
	if j.Run == "" {
		return
	}
	e, ok := b.n.edges[j.Run]
	if !ok {
		ids := make([]string, 0, len(b.d.Pipes))
		for i := range b.d.Pipes {
			if b.d.Pipes[i].ID == j.Run {
				return // the pipe has a problem of its own
			}
			ids = append(ids, b.d.Pipes[i].ID)
		}
		slices.Sort(ids)
		b.dangling(j.Position, "junction", j.ID, "run", j.Run, ids)
		return
	}
	if b.n.Nodes[b.n.Edges[e].To].ID != j.ID {
		b.problem(j.Position, "wrong_end", "junction %q names pipe %q as its run; that pipe ends at %q", "", j.ID, j.Run, b.n.Nodes[b.n.Edges[e].To].ID)
	}
}

// checkPumpedStarts cuts pumped pipes that no pump can feed: those that start
// at a junction into which no pumped pipe runs, or into which a drain runs.
func (b *builder) checkPumpedStarts() {
	n := b.n
	fed, drained := make([]bool, len(n.Nodes)), make([]int, len(n.Nodes))
	for i := range drained {
		drained[i] = None
	}
	for i, e := range n.Edges {
		switch {
		case e.Service == Pumped && e.From != e.To:
			fed[e.To] = true
		case e.Service == Drain && drained[e.To] == None:
			drained[e.To] = i
		}
	}
	for i, e := range n.Edges {
		if e.Service != Pumped || n.Nodes[e.From].Kind != Junction {
			continue
		}
		at := b.d.Pipes[e.Item].Position
		switch {
		case !fed[e.From]:
			b.cut[i] = true
			b.problem(at, "wrong_end", "pumped pipe %q starts at junction %q, which no pumped pipe reaches", "a pumped line starts at a pump", e.ID, n.Nodes[e.From].ID)
		case drained[e.From] != None:
			b.cut[i] = true
			b.problem(at, "wrong_end", "pumped pipe %q starts at junction %q, into which drain %q runs", "gravity drains cannot enter a pumped line; end the pumped service where it meets a drain",
				e.ID, n.Nodes[e.From].ID, n.Edges[drained[e.From]].ID)
		}
	}
}

// keepOneOutlet cuts every drain or pumped pipe but the first that leaves an element.
func (b *builder) keepOneOutlet() {
	n := b.n
	first := make([]int, len(n.Nodes))
	for i := range first {
		first[i] = None
	}
	for i, e := range n.Edges {
		if b.cut[i] || e.Service != Drain && e.Service != Pumped || e.From == e.To {
			continue
		}
		if f := first[e.From]; f != None {
			b.cut[i] = true
			from := n.Nodes[e.From]
			b.problem(b.d.Pipes[e.Item].Position, "two_outlets", "%s %q has two outlets: %q and %q", "waste leaves an element by one pipe; turn one round or join it elsewhere",
				from.Kind, from.ID, n.Edges[f].ID, e.ID)
			continue
		}
		first[e.From] = i
	}
}

// nearest finds the id closest to ref by edits, if it is close enough to be a
// slip of the pen; the smallest id among equals.
func nearest(ref string, ids []string) (string, bool) {
	if len(ref) == 0 || len(ref) > 64 {
		return "", false
	}
	best, found := 1+max(1, len(ref)/3), ""
	for _, id := range ids {
		if len(id) > len(ref)+best || len(ref) > len(id)+best {
			continue
		}
		if d := levenshtein.ComputeDistance(ref, id); d < best {
			best, found = d, id
		}
	}
	return found, found != ""
}
