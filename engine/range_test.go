package engine_test

import (
	"context"
	"os"
	"strings"
	"testing"

	"backpitch/engine"
	"backpitch/engine/finding"
	"backpitch/policies"
)

// A verdict that turns inside the range of its number is left to a person, with
// the numbers in the profile's units; one that fails anyway says which end
// would pass.
func TestRangesEndToEnd(t *testing.T) {
	data, err := os.ReadFile("../testdata/designs/pottery-studio.json")
	if err != nil {
		t.Fatal(err)
	}
	review := func(from, to string) finding.Review {
		t.Helper()
		text := strings.Replace(string(data), from, to, 1)
		if text == string(data) {
			t.Fatalf("the demo has no %s", from)
		}
		return engine.New(engine.Options{Policies: policies.FS()}).Review(context.Background(), engine.Submission{Name: "d.json", Data: []byte(text)}, "ipc-2021")
	}
	find := func(r finding.Review, rule string) finding.Finding {
		t.Helper()
		for _, f := range r.Findings {
			if f.Rule == rule && f.Subject == "pump" {
				return f
			}
		}
		t.Fatalf("no finding of %s: %v %v", rule, r.Problems, r.Failure)
		return finding.Finding{}
	}
	const limit = `"max_starts_per_hour": 20`

	f := find(review(limit, `"max_starts_per_hour": 18.5`), "pump/starts_too_often")
	if f.Outcome != finding.PersonDecides || f.Range == nil || !strings.Contains(f.Message, "fails at the high end of its range, "+f.Range.High.Text) ||
		!strings.Contains(f.Message, "passes at "+f.Measured.Text) || !strings.Contains(f.Message, "18.5") {
		t.Errorf("%s: %s (%+v)", f.Outcome, f.Message, f.Range)
	}
	if *f.Range.Low.Fixed > *f.Measured.Fixed || *f.Range.High.Fixed < *f.Measured.Fixed {
		t.Errorf("range %+v around %+v", f.Range, f.Measured)
	}
	f = find(review(limit, `"max_starts_per_hour": 17.5`), "pump/starts_too_often")
	if f.Outcome != finding.Fail || !strings.Contains(f.Message, "the low end of its range, "+f.Range.Low.Text+", would pass") {
		t.Errorf("%s: %s", f.Outcome, f.Message)
	}
	f = find(review(limit, `"max_starts_per_hour": 10`), "pump/starts_too_often")
	if f.Outcome != finding.Fail || strings.Contains(f.Message, "would pass") {
		t.Errorf("%s: %s", f.Outcome, f.Message)
	}
	f = find(review(limit, `"max_starts_per_hour": 21`), "pump/starts_too_often")
	if f.Outcome != finding.Pass {
		t.Errorf("%s: %s", f.Outcome, f.Message)
	}
}
