package facts

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"backpitch/engine/design"
	"backpitch/engine/quantity"
)

// all are the designs of the other tests, which the laws must hold for.
var all = map[string]string{"washroom": washroom, "pumped": pumped, "bathroom": bathroom, "vented": vented, "mains": mains, "lift": lift}

// What leaves a junction by gravity is what arrives, fixture by fixture.
func TestContinuity(t *testing.T) {
	for name, body := range all {
		t.Run(name, func(t *testing.T) {
			f := derive(t, body)
			arrives := map[string]int64{}
			pumps := map[string]int64{}
			for _, d := range f.Drains {
				arrives[d.To] += d.Fixtures
			}
			for _, m := range f.Discharges {
				pumps[m.ReceiverID] = max(pumps[m.ReceiverID], m.Fixtures)
			}
			starts := map[string]int64{}
			for _, x := range f.Fixtures {
				starts[x.ID] = 1
			}
			for _, d := range f.Drains {
				if got, want := d.Fixtures, arrives[d.From]+starts[d.From]+pumps[d.From]; got != want {
					t.Errorf("%s carries %d fixtures, %d arrive at %s", d.ID, got, want, d.From)
				}
			}
			var total, left int64
			for _, x := range f.Fixtures {
				if x.DrainsTo != "nothing" {
					total++
				}
			}
			for _, b := range f.Basins {
				left += b.Fixtures
			}
			for _, c := range f.Connections {
				left += arrives[c.ID]
			}
			for _, b := range f.Basins { // counted at the basin and again below its pump
				if pumpedOn := pumpsTo(f, b.ID); pumpedOn != "" && !strings.HasPrefix(pumpedOn, "conn:") {
					left -= b.Fixtures
				}
			}
			if total != left {
				t.Errorf("%d fixtures drain, %d arrive at an end", total, left)
			}
		})
	}
}

// pumpsTo is the junction to which a basin is pumped, "conn:" and the
// connection where it is one, "" for neither.
func pumpsTo(f *Facts, basin string) string {
	for _, m := range f.Discharges {
		if m.BasinID != basin || m.ReceiverID == "" {
			continue
		}
		for _, c := range f.Connections {
			if c.ID == m.ReceiverID {
				return "conn:" + c.ID
			}
		}
		return m.ReceiverID
	}
	return ""
}

// The order of elements in the file changes nothing.
func TestShuffle(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 9))
	for name, body := range all {
		t.Run(name, func(t *testing.T) {
			want := derive(t, body)
			d := read(t, body)
			for range 25 {
				shuffle(r, d.Fixtures)
				shuffle(r, d.Junctions)
				shuffle(r, d.Pipes)
				shuffle(r, d.Terminals)
				shuffle(r, d.Basins)
				shuffle(r, d.Pumps)
				shuffle(r, d.Connections)
				got, problems := deriveWith(t, d, tables{})
				if len(problems) > 0 {
					t.Fatal(problems)
				}
				if diff := cmp.Diff(want, got); diff != "" {
					t.Fatalf("facts change with the order (-want +got):\n%s", diff)
				}
			}
		})
	}
}

func shuffle[T any](r *rand.Rand, list []T) {
	r.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
}

// The same design in millimetres and per cent gives the same facts: inches
// are exact in both, so nothing may differ.
func TestUnits(t *testing.T) {
	for name, body := range all {
		t.Run(name, func(t *testing.T) {
			want := derive(t, body)
			d := read(t, body)
			for i := range d.Pipes {
				p := &d.Pipes[i]
				for _, l := range []*design.Length{&p.Length, &p.InvertFrom, &p.InvertTo} {
					l.Value = inMillimetres(t, l.Value)
				}
				for k := range p.Bends {
					p.Bends[k].At.Value = inMillimetres(t, p.Bends[k].At.Value)
				}
				for k := range p.Devices {
					p.Devices[k].At.Value = inMillimetres(t, p.Devices[k].At.Value)
				}
				if !p.Size.IsZero() {
					p.Size.Value = parse(t, quantity.Size, quantity.SizeKey(p.Size.Fixed()))
				}
			}
			for i := range d.Fixtures {
				d.Fixtures[i].FloodRim.Value = inMillimetres(t, d.Fixtures[i].FloodRim.Value)
			}
			for i := range d.Junctions {
				d.Junctions[i].Invert.Value = inMillimetres(t, d.Junctions[i].Invert.Value)
			}
			got, problems := deriveWith(t, d, tables{})
			if len(problems) > 0 {
				t.Fatal(problems)
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("facts change with the units (-want +got):\n%s", diff)
			}
		})
	}
}

func parse(t testing.TB, k quantity.Kind, s string) quantity.Value {
	t.Helper()
	v, err := quantity.Parse(k, s)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func inMillimetres(t testing.TB, v quantity.Value) quantity.Value {
	t.Helper()
	if v.IsZero() {
		return v
	}
	nm := v.Nanometres()
	sign := ""
	if nm < 0 {
		sign, nm = "-", -nm
	}
	return parse(t, quantity.Length, fmt.Sprintf("%s%d.%06d mm", sign, nm/1_000_000, nm%1_000_000))
}
