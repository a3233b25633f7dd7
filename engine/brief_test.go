package engine_test

import (
	"bytes"
	"testing"

	"backpitch/engine/finding"
	"backpitch/engine/report"
)

// A format that does not print what passes prints the same of a brief review.
func TestBriefReviewsPrintTheSame(t *testing.T) {
	eng := shipped()
	shown := map[finding.Outcome]bool{finding.Fail: true, finding.Open: true, finding.PersonDecides: true}
	tried := 0
	for _, name := range report.Formats() {
		format, err := report.For(name)
		if err != nil {
			t.Fatal(err)
		}
		if format.Passes {
			continue
		}
		tried++
		var out [2]bytes.Buffer
		passes := 0
		for i, brief := range []bool{false, true} {
			sink := format.New(&out[i], report.Options{Show: shown})
			for _, design := range []string{"pottery-studio.json", "pottery-studio-flawed.json", "pottery-studio-sketch.json"} {
				s := demo(t, design)
				s.Brief = brief
				review := eng.Review(t.Context(), s, "ipc-2021")
				if review.Failure != "" {
					t.Fatal(review.Failure)
				}
				if passes += review.Counts.Pass; brief && review.Elements != nil {
					t.Errorf("%s: a brief review holds the design", design)
				}
				if err := sink.Review(report.Entry{Review: review}); err != nil {
					t.Fatal(err)
				}
			}
			if err := sink.Close(); err != nil {
				t.Fatal(err)
			}
		}
		if out[0].Len() == 0 || passes == 0 || !bytes.Equal(out[0].Bytes(), out[1].Bytes()) {
			t.Errorf("%s prints something else of a brief review, or nothing: %d bytes, %d bytes, %d pass", name, out[0].Len(), out[1].Len(), passes)
		}
	}
	if tried < 5 {
		t.Errorf("%d formats were tried", tried)
	}
}
