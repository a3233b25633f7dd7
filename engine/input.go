package engine

import (
	"backpitch/engine/design"
	"backpitch/engine/facts"
	"backpitch/engine/finding"
	"backpitch/engine/profile"
)

// Facts computes what rules read of a design and judges nothing. The facts are
// nil where the review says why there are none.
func (e *Engine) Facts(s Submission, profileID string) (*facts.Facts, finding.Review) {
	doc, problems := design.Read(s.Name, s.Data, e.limits)
	review := finding.Review{File: s.Name, Problems: problems}
	if doc == nil || len(problems) > 0 {
		return nil, review
	}
	if profileID == "" {
		profileID = doc.Profile
	}
	if profileID == "" {
		review.Failure, review.Hint = noProfile, noProfileHint
		return nil, review
	}
	p, err := profile.Load(e.policies, profileID)
	if err != nil {
		review.Failure, review.Hint = Explain(err)
		return nil, review
	}
	derived, problems := Derive(s.Name, doc, p)
	finding.SortProblems(problems)
	review.Problems = e.limits.Cut(s.Name, problems)
	return derived, review
}
