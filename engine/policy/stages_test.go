package policy_test

import (
	"slices"
	"testing"

	"backpitch/engine/policy"
	"backpitch/testdata/designs/varied"
	"backpitch/testdata/speed"
)

// BenchmarkStages times the parts of Judge, which are what the stage "judge"
// in package engine is made of; "judge" is the whole of them.
func BenchmarkStages(b *testing.B) {
	p, prepared := preparedFor(b, "ipc-2021")
	demo := designTexts(b)["pottery-studio"]
	large, err := varied.Merged(slices.Repeat([][]byte{demo}, 48)...)
	if err != nil {
		b.Fatal(err)
	}
	for _, d := range []struct {
		name string
		text []byte
	}{{"demo", demo}, {"1000 pipes", large}} {
		f := readable(d.name, d.text, p)
		input := policy.InputOf(f)
		for _, s := range []struct {
			name string
			do   func() error
		}{
			{"values", func() error { policy.InputOf(f); return nil }},
			{"evaluate", func() error { return prepared.Evaluate(b.Context(), input) }},
			{"judge", func() error { _, err := prepared.Judge(b.Context(), f); return err }},
		} {
			b.Run(d.name+"/"+s.name, func(b *testing.B) {
				b.ReportAllocs()
				defer speed.Count(b)()
				for b.Loop() {
					if err := s.do(); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
