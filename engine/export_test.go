package engine

import (
	"context"

	"backpitch/engine/design"
	"backpitch/engine/facts"
	"backpitch/engine/finding"
	"backpitch/engine/policy"
)

// Judged is the stage of a review in which the rules answer.
func (r *Reviewer) Judged(ctx context.Context, f *facts.Facts) ([]policy.Verdict, error) {
	return r.prepared.Judge(ctx, f)
}

// Joined is the stage of a review that makes findings of the answers.
func (r *Reviewer) Joined(file string, doc *design.Document, verdicts []policy.Verdict) (review finding.Review, err error) {
	review.Findings, err = r.findings(Submission{Name: file}, doc, verdicts)
	review.Elements = elements(doc)
	count(&review)
	return review, err
}
