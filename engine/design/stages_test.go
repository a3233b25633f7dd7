package design

import (
	"os"
	"slices"
	"testing"

	"backpitch/testdata/designs/varied"
	"backpitch/testdata/speed"
)

// BenchmarkStages times the parts of Read, which are what the stage "read" in
// package engine is made of.
func BenchmarkStages(b *testing.B) {
	demo, err := os.ReadFile("../../testdata/designs/pottery-studio.json")
	if err != nil {
		b.Fatal(err)
	}
	large, err := varied.Merged(slices.Repeat([][]byte{demo}, 48)...)
	if err != nil {
		b.Fatal(err)
	}
	for _, d := range []struct {
		name string
		text []byte
	}{{"demo", demo}, {"1000 pipes", large}} {
		b.Run(d.name, func(b *testing.B) { stages(b, d.text) })
	}
}

func stages(b *testing.B, text []byte) {
	limits := Limits{}.OrDefault()
	f := &faults{file: "d.json"}
	t, ok := scan(text, limits, f)
	if !ok {
		b.Fatal(f.problems())
	}
	f.table = t
	schema := loadRules("design")
	doc := decode(t, f)
	for _, s := range []struct {
		name string
		do   func()
	}{
		{"scan", func() { scan(text, limits, f) }},
		{"schema", func() { validate(schema, t, f) }},
		{"decode", func() { decode(t, f) }},
		{"check", func() { check(doc, f) }},
	} {
		b.Run(s.name, func(b *testing.B) {
			b.ReportAllocs()
			defer speed.Count(b)()
			for b.Loop() {
				s.do()
			}
			if len(f.list) > 0 {
				b.Fatal(f.problems())
			}
		})
	}
}
