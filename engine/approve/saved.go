package approve

import (
	"fmt"
	"strconv"

	"backpitch/engine/design"
	"backpitch/engine/finding"
)

// Saved reviews are written by the tool and longer than designs.
var savedLimits = design.Limits{Bytes: 256 << 20, Values: 20_000_000, Text: 100_000}

// Limits are those of saved reviews and baselines: those of designs, and higher
// ones where the tool itself writes longer files.
func Limits(designs design.Limits) design.Limits { return savedLimits.AtLeast(designs.OrDefault()) }

// IsSaved reports whether data is meant to be a saved review, not a design.
func IsSaved(data []byte, designs design.Limits) bool {
	return design.HasKey(data, "reviews", Limits(designs))
}

// ReadReviews reads a report of `review --format json`. A report that was
// changed by hand so that its fingerprints are wrong is refused. The limits are
// those of designs; see [Limits].
func ReadReviews(name string, data []byte, designs design.Limits) ([]finding.Review, []finding.Problem) {
	src, problems := design.ReadSource(name, "findings", "saved review", data, Limits(designs))
	if src == nil {
		return nil, problems
	}
	var report struct {
		Reviews []finding.Review `json:"reviews"`
	}
	if problems := src.Decode(&report); problems != nil {
		return nil, problems
	}
	r := reader{src: src}
	for i := range report.Reviews {
		r.review("/reviews/"+strconv.Itoa(i), &report.Reviews[i])
	}
	if len(r.problems) > 0 {
		finding.SortProblems(r.problems)
		return nil, r.problems
	}
	return report.Reviews, nil
}

func (r *reader) review(at string, review *finding.Review) {
	seen := map[string]bool{}
	for i, f := range review.Findings {
		if f.Fingerprint != finding.Fingerprint(f.Rule, f.Subject) {
			r.add(fmt.Sprintf("%s/findings/%d/fingerprint", at, i), "wrong_fingerprint",
				fmt.Sprintf("this is not the fingerprint of %s for %q", f.Rule, f.Subject), "save the review again; it is not to be edited")
		}
		if key := f.Rule + "\n" + f.Subject; seen[key] {
			r.add(fmt.Sprintf("%s/findings/%d", at, i), "repeated_finding", fmt.Sprintf("%s for %q is given twice", f.Rule, f.Subject), "")
		} else {
			seen[key] = true
		}
	}
	ids := map[string]bool{}
	for i, e := range review.Elements {
		if ids[e.ID] {
			r.add(fmt.Sprintf("%s/elements/%d", at, i), "duplicate_id", fmt.Sprintf("the element %q is given twice", e.ID), "")
		}
		ids[e.ID] = true
	}
}
