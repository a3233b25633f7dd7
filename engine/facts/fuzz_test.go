package facts

import (
	"encoding/json"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"

	"backpitch/engine/calcs"
	"backpitch/engine/design"
	"backpitch/engine/network"
	"backpitch/engine/quantity"
)

// FuzzDerive rewires the designs of the tests at random: ends swapped, pipes
// doubled, services and statements changed. Whatever comes out, Build and
// Derive end, do not panic, and give the same facts twice and in any order.
func FuzzDerive(f *testing.F) {
	var bodies []string
	for _, name := range []string{"washroom", "pumped", "bathroom", "vented", "mains", "lift"} {
		bodies = append(bodies, all[name])
	}
	for i := range bodies {
		f.Add(uint64(i), uint64(i*31+7), uint8(i))
	}
	f.Fuzz(func(t *testing.T, a, b uint64, which uint8) {
		d := read(t, bodies[int(which)%len(bodies)])
		r := rand.New(rand.NewPCG(a, b))
		for range 1 + r.IntN(6) {
			mutate(r, d)
		}
		n, problems := network.Build(d)
		facts, more := DeriveWith(d, n, tables{})
		if _, err := json.Marshal(facts); err != nil {
			t.Fatal(err)
		}
		shuffle(r, d.Pipes)
		shuffle(r, d.Junctions)
		shuffle(r, d.Fixtures)
		n2, problems2 := network.Build(d)
		rec := &calcs.Record{} // what is written down changes no fact, and every step prints
		facts2, more2 := deriveInto(d, n2, tables{}, rec)
		new(calcs.Sheet).Write(rec, quantity.US, nil)
		if duplicates(d) {
			return // the first in the file keeps its id: order matters
		}
		if len(problems) != len(problems2) || len(more) != len(more2) {
			t.Errorf("problems change with the order: %v, %v; %v, %v", problems, more, problems2, more2)
		}
		if diff := cmp.Diff(facts, facts2); diff != "" {
			t.Errorf("facts change with the order (-want +got):\n%s", diff)
		}
	})
}

func duplicates(d *design.Document) bool {
	seen := map[string]bool{}
	for i := range d.Pipes {
		if seen[d.Pipes[i].ID] {
			return true
		}
		seen[d.Pipes[i].ID] = true
	}
	return false
}

func mutate(r *rand.Rand, d *design.Document) {
	var ids []string
	for _, x := range d.Fixtures {
		ids = append(ids, x.ID)
	}
	for _, x := range d.Junctions {
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
	for _, x := range d.Terminals {
		ids = append(ids, x.ID)
	}
	any := func() string { return ids[r.IntN(len(ids))] }
	p := &d.Pipes[r.IntN(len(d.Pipes))]
	switch r.IntN(12) {
	case 0:
		p.From, p.To = p.To, p.From
	case 1:
		p.To = any()
	case 2:
		p.From = any()
	case 3:
		p.Service = []string{"drain", "vent", "pumped"}[r.IntN(3)]
	case 4:
		q := *p
		q.ID += "-again"
		d.Pipes = append(d.Pipes, q)
	case 5:
		q := *p
		d.Pipes = append(d.Pipes, q)
	case 6:
		p.Lie = []string{"", "horizontal", "vertical", "sloped_45"}[r.IntN(4)]
	case 7:
		p.Role = []string{"", "stack", "branch", "fixture_drain", "building_drain"}[r.IntN(5)]
	case 8:
		p.Venting = []string{"", "wet", "circuit", "combination"}[r.IntN(4)]
	case 9:
		q := d.Pipes[r.IntN(len(d.Pipes))]
		p.Length, p.Slope, p.InvertFrom, p.InvertTo, p.Size = q.InvertTo, q.Slope, q.Length, q.InvertFrom, q.Size
	case 10:
		d.Groups = append(d.Groups, design.Group{ID: "g" + any(), Fixtures: []string{any(), any(), any()}})
	case 11:
		i := r.IntN(len(d.Pipes))
		d.Pipes = append(d.Pipes[:i:i], d.Pipes[i+1:]...)
		if len(d.Pipes) == 0 {
			d.Pipes = append(d.Pipes, *p)
		}
	}
}
