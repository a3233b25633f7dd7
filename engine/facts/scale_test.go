package facts

import (
	"fmt"
	"math"
	"os"
	"testing"
	"time"

	"backpitch/engine/calcs"
	"backpitch/engine/design"
	"backpitch/engine/network"
	"backpitch/engine/quantity"
)

// long is a main with a vented sink every other pipe, a group and a cleanout
// now and then: pipes pipes in all, about.
func long(t testing.TB, pipes int) *design.Document {
	t.Helper()
	length, slope := parse(t, quantity.Length, "7 ft 3 in"), parse(t, quantity.Slope, "1/8 in/ft")
	size := parse(t, quantity.Size, "3 in")
	d := &design.Document{Connections: []design.Connection{{ID: "out", Kind: "building_sewer", Invert: design.Length{Value: parse(t, quantity.Length, "-40 ft")}}}}
	pipe := func(id, service, from, to string) {
		p := design.Pipe{ID: id, Service: service, From: from, To: to, Material: "pvc_dwv"}
		p.Length.Value, p.Slope.Value, p.Size.Value = length, slope, size
		if len(d.Pipes)%40 == 0 {
			p.Devices = []design.Device{{ID: "co-" + id, Kind: "cleanout"}}
		}
		d.Pipes = append(d.Pipes, p)
	}
	next := func(i int) string {
		if 4*(i+1) >= pipes {
			return "out"
		}
		return fmt.Sprintf("m%06d", i+1)
	}
	for i := 0; 4*i < pipes; i++ {
		f, j, m := fmt.Sprintf("f%06d", i), fmt.Sprintf("j%06d", i), fmt.Sprintf("m%06d", i)
		d.Fixtures = append(d.Fixtures, design.Fixture{ID: f, Kind: "sink"})
		d.Junctions = append(d.Junctions, design.Junction{ID: j}, design.Junction{ID: m})
		d.Terminals = append(d.Terminals, design.Terminal{ID: "t-" + f, Kind: "roof_vent"})
		pipe("a"+f, "drain", f, j)
		pipe("b"+f, "drain", j, m)
		pipe("v"+f, "vent", j, "t-"+f)
		pipe("main"+m, "drain", m, next(i))
	}
	return d
}

func deriveLong(t testing.TB, d *design.Document) *Facts {
	n, problems := network.Build(d)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	f, problems := DeriveWith(d, n, tables{})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return f
}

func TestLongMain(t *testing.T) {
	d := long(t, 5000)
	start := time.Now()
	f := deriveLong(t, d)
	if took := time.Since(start); took > 5*time.Second {
		t.Errorf("5,000 pipes took %v", took)
	}
	last := at(t, f.Drains[len(f.Drains)-1:], f.Drains[len(f.Drains)-1].ID)
	if last.To != "out" || last.Fixtures != 1250 {
		t.Fatalf("last = %+v", last)
	}
	want(t, "load", last.Load, 1250*2000)
	// 1,250 lengths of 7 ft 3 in at 1/96, exactly: 1250 * 87 in / 96 = 1132.8125 in.
	first := at(t, f.Drains, "mainm000000")
	want(t, "first invert", first.InvertFrom, int64(math.Round((-480+1132.8125)*in)))
}

// Time grows with the size to a power near 1. The bound leaves room for a busy machine.
func TestGrowth(t *testing.T) {
	if testing.Short() {
		t.Skip("measures time")
	}
	took := func(pipes int) float64 {
		d := long(t, pipes)
		best := math.Inf(1)
		for range 3 {
			start := time.Now()
			deriveLong(t, d)
			best = math.Min(best, time.Since(start).Seconds())
		}
		return best
	}
	small, large := took(50), took(5000)
	t.Logf("50 pipes %.1f ms, 5,000 pipes %.1f ms, growth exponent %.2f", small*1e3, large*1e3, math.Log(large/small)/math.Log(100))
	small, large = took(1000), took(16_000)
	power := math.Log(large/small) / math.Log(16)
	t.Logf("1,000 pipes %.1f ms, 16,000 pipes %.1f ms, growth exponent %.2f", small*1e3, large*1e3, power)
	if power > 1.5 {
		t.Errorf("growth exponent %.2f", power)
	}
}

func BenchmarkDerive(b *testing.B) {
	took := map[int]float64{}
	data, err := os.ReadFile("../../testdata/designs/pottery-studio.json")
	if err != nil {
		b.Fatal(err)
	}
	demo, problems := design.Read("demo", data, design.Limits{})
	if len(problems) > 0 {
		b.Fatal(problems)
	}
	n, _ := network.Build(demo)
	b.Run("demo", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			DeriveWith(demo, n, tables{})
		}
	})
	b.Run("demo with its calculation sheet", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			deriveInto(demo, n, tables{}, &calcs.Record{})
		}
	})
	for _, pipes := range []int{50, 500, 5000} {
		d := long(b, pipes)
		n, _ := network.Build(d)
		b.Run(fmt.Sprint(pipes), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				DeriveWith(d, n, tables{})
			}
			took[pipes] = b.Elapsed().Seconds() / float64(b.N)
		})
	}
	if took[50] > 0 && took[5000] > 0 { // printed with -v
		b.Logf("growth exponent %.2f", math.Log(took[5000]/took[50])/math.Log(100))
	}
}
