package engine_test

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"runtime/metrics"
	"slices"
	"testing"

	"backpitch/engine"
	"backpitch/engine/design"
	"backpitch/engine/facts"
	"backpitch/engine/finding"
	"backpitch/engine/network"
	"backpitch/engine/report"
	"backpitch/testdata/designs/varied"
	"backpitch/testdata/speed"
)

func demoText(t testing.TB) []byte { return demo(t, "pottery-studio.json").Data }

// wide is about so many pipes in demos that stand side by side.
func wide(t testing.TB, pipes int) []byte {
	t.Helper()
	const inOne = 21
	text, err := varied.Merged(slices.Repeat([][]byte{demoText(t)}, max(1, (pipes+inOne/2)/inOne))...)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// What speed is measured with must be judged as any design is.
func TestMeasuredDesignsAreJudged(t *testing.T) {
	eng := shipped()
	texts := map[string][]byte{"wide": wide(t, 100), "long": varied.Long(100)}
	bases, err := filepath.Glob("../testdata/designs/bases/*.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range append(bases, "../testdata/designs/pottery-studio.json") {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		first, second := varied.Variation(data, 1), varied.Variation(data, 2)
		if !bytes.Equal(first, varied.Variation(data, 1)) || bytes.Equal(first, second) {
			t.Errorf("%s: the same seed gives other texts, or other seeds the same", file)
		}
		for seed := range uint64(20) {
			texts[fmt.Sprintf("%s, variation %d", filepath.Base(file), seed)] = varied.Variation(data, seed)
		}
	}
	for name, text := range texts {
		r := eng.Review(t.Context(), engine.Submission{Name: name, Data: text}, "ipc-2021")
		if r.Failure != "" || len(r.Problems) > 0 || len(r.Findings) < 100 {
			t.Errorf("%s: %s %v, %d findings", name, r.Failure, r.Problems, len(r.Findings))
		}
	}
	for _, pipes := range []int{50, 5000} {
		for name, text := range map[string][]byte{"wide": wide(t, pipes), "long": varied.Long(pipes)} {
			doc, problems := design.Read(name, text, design.DefaultLimits())
			if doc == nil || len(doc.Pipes) < pipes*4/5 || len(doc.Pipes) > pipes*6/5 {
				t.Errorf("%s of %d pipes cannot be read or has another number: %v", name, pipes, problems)
			}
		}
	}
}

// BenchmarkStages times each stage of a review by itself, and the whole. What
// reading and judging are made of is in the benchmarks of that name in
// engine/design and engine/policy.
func BenchmarkStages(b *testing.B) {
	for _, d := range []struct {
		name string
		text []byte
	}{{"demo", demoText(b)}, {"1000 pipes", wide(b, 1000)}} {
		b.Run(d.name, func(b *testing.B) { stages(b, d.text) })
	}
}

func stages(b *testing.B, text []byte) {
	eng := shipped()
	reviewer, err := eng.Open(b.Context(), "ipc-2021")
	if err != nil {
		b.Fatal(err)
	}
	s := engine.Submission{Name: "d.json", Data: text}
	doc, problems := design.Read(s.Name, text, design.DefaultLimits())
	if doc == nil {
		b.Fatal(problems)
	}
	net, _ := network.Build(doc)
	f, problems := facts.Derive(doc, net, reviewer.Profile())
	if f == nil {
		b.Fatal(problems)
	}
	verdicts, err := reviewer.Judged(b.Context(), f)
	if err != nil {
		b.Fatal(err)
	}
	review := eng.Review(b.Context(), s, "")
	stage := func(name string, do func() bool) {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			defer speed.Count(b)()
			for b.Loop() {
				if !do() {
					b.Fatal("it cannot be done")
				}
			}
		})
	}
	stage("read", func() bool { d, _ := design.Read(s.Name, text, design.DefaultLimits()); return d != nil })
	stage("network", func() bool { _, problems := network.Build(doc); return len(problems) == 0 })
	stage("derive", func() bool { f, _ := facts.Derive(doc, net, reviewer.Profile()); return f != nil })
	stage("judge", func() bool { v, err := reviewer.Judged(b.Context(), f); return err == nil && len(v) > 0 })
	stage("findings", func() bool { _, err := reviewer.Joined(s.Name, doc, verdicts); return err == nil })
	for _, format := range []string{"text", "csv", "json"} {
		stage("report as "+format, func() bool { return printed(format, review) })
	}
	b.Run("whole", func(b *testing.B) {
		b.ReportAllocs()
		share := collecting()
		defer speed.Count(b)()
		for b.Loop() {
			if !printed("text", eng.Review(b.Context(), s, "")) {
				b.Fatal("it cannot be done")
			}
		}
		b.ReportMetric(share(), "gc-%")
	})
}

func printed(format string, review finding.Review) bool {
	f, err := report.For(format)
	return err == nil && review.Failure == "" &&
		report.Write(io.Discard, f, []report.Entry{{Review: review}}, report.Options{Show: map[finding.Outcome]bool{finding.Fail: true, finding.Open: true, finding.PersonDecides: true}}) == nil
}

// collecting begins to count; what it returns gives the share of processor
// time, in percent, that the garbage collector has taken since.
func collecting() (share func() float64) {
	read := func() (gc, busy float64) {
		runtime.GC() // the counts are brought up to date by a collection
		s := []metrics.Sample{{Name: "/cpu/classes/gc/total:cpu-seconds"}, {Name: "/cpu/classes/gc/mark/idle:cpu-seconds"},
			{Name: "/cpu/classes/total:cpu-seconds"}, {Name: "/cpu/classes/idle:cpu-seconds"}}
		metrics.Read(s)
		v := func(i int) float64 { return s[i].Value.Float64() }
		return v(0) - v(1), v(2) - v(3) - v(1)
	}
	gc, busy := read()
	return func() float64 {
		gcNow, busyNow := read()
		return 100 * (gcNow - gc) / (busyNow - busy)
	}
}

// BenchmarkGrowth times facts alone and the whole review as a design grows, in
// width and in length.
func BenchmarkGrowth(b *testing.B) {
	eng := shipped()
	reviewer, err := eng.Open(b.Context(), "ipc-2021")
	if err != nil {
		b.Fatal(err)
	}
	for _, d := range []struct {
		shape string
		text  func(pipes int) []byte
	}{{"wide", func(pipes int) []byte { return wide(b, pipes) }}, {"long", varied.Long}} {
		for _, pipes := range []int{50, 150, 500, 1500, 5000} {
			data := d.text(pipes)
			doc, problems := design.Read("d.json", data, design.DefaultLimits())
			if doc == nil {
				b.Fatal(problems)
			}
			b.Run(fmt.Sprintf("%s/facts/%d", d.shape, pipes), func(b *testing.B) {
				b.ReportAllocs()
				defer speed.Count(b)()
				for b.Loop() {
					if f, problems := engine.Derive("d.json", doc, reviewer.Profile()); f == nil {
						b.Fatal(problems)
					}
				}
				b.ReportMetric(float64(len(doc.Pipes)), "pipes")
			})
			b.Run(fmt.Sprintf("%s/review/%d", d.shape, pipes), func(b *testing.B) {
				b.ReportAllocs()
				defer speed.Count(b)()
				for b.Loop() {
					if r := reviewer.Review(b.Context(), engine.Submission{Name: "d.json", Data: data}); r.Failure != "" || len(r.Problems) > 0 {
						b.Fatal(r.Failure, r.Problems)
					}
				}
				b.ReportMetric(float64(len(doc.Pipes)), "pipes")
			})
		}
	}
}
