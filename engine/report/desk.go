package report

import (
	"fmt"
	"strings"

	"github.com/fatih/color"

	"backpitch/engine/finding"
)

// What reports say about failures that somebody answers for. The word
// "approved" always comes with the one who approved it: it is no verdict of
// this tool.

// Approved says who approved a failure, and when: approved with conditions by
// the plan review office on 2026-02-03 (ALT-7), until 2026-12-31.
func Approved(a finding.Approval) string {
	word := "approved by"
	if a.Condition != "" {
		word = "approved with conditions by"
	}
	text := fmt.Sprintf("%s %s on %s (%s)", word, a.GrantedBy, a.Date, a.Reference)
	if a.Expires != "" {
		text += ", until " + a.Expires
	}
	return text
}

// Excuse is why a failure does not count, in one sentence; "" where it counts.
func Excuse(f finding.Finding) string {
	switch {
	case f.Approval != nil:
		parts := nonEmpty(Approved(*f.Approval), prefixed("condition: ", f.Approval.Condition), prefixed("reason: ", f.Approval.Reason))
		return strings.Join(parts, "; ")
	case f.Baseline != "":
		return "existing work that stays as it was, by the baseline " + f.Baseline
	}
	return ""
}

func prefixed(prefix, text string) string {
	if text == "" {
		return ""
	}
	return prefix + text
}

// excused prints the failures that somebody answers for, with whom and why.
func (t *textReport) excused(r finding.Review) {
	if !t.o.Show[finding.Fail] {
		return
	}
	for _, g := range []struct {
		title string
		in    func(finding.Finding) bool
	}{
		{"does not meet, with an approval on file", func(f finding.Finding) bool { return f.Approval != nil }},
		{"does not meet, existing work that stays as it was", func(f finding.Finding) bool { return f.Approval == nil && f.Baseline != "" }},
	} {
		t.list(r, g.title, "", color.FgMagenta, func(f finding.Finding) bool { return f.Outcome == finding.Fail && g.in(f) })
	}
}

// excuse prints the mark of a finding.
func (t *textReport) excuse(f finding.Finding) {
	if f.Approval != nil {
		fmt.Fprintf(t.w, "    %s\n", Approved(*f.Approval))
		if f.Approval.Condition != "" {
			fmt.Fprintf(t.w, "    condition: %s\n", f.Approval.Condition)
		}
		fmt.Fprintf(t.w, "    reason:   %s\n", f.Approval.Reason)
	} else if f.Baseline != "" {
		fmt.Fprintf(t.w, "    in the baseline %s\n", f.Baseline)
	}
}

func (t *textReport) notices(r finding.Review) {
	if len(r.Notices) == 0 {
		return
	}
	fmt.Fprintf(t.w, "\n%s\n", t.paint(color.FgYellow, color.Bold)(plural(len(r.Notices), "notice")+" about approvals and baseline"))
	for _, n := range r.Notices {
		fmt.Fprintf(t.w, "%s: %s\n", Place(n.Place), n.Message)
		t.hint(n.Hint)
	}
}

// excusedSum is what the sum adds to its failures: "" where nobody answers for any.
func excusedSum(c finding.Counts) string {
	var parts []string
	if c.Approved > 0 {
		parts = append(parts, fmt.Sprintf("%d with an approval", c.Approved))
	}
	if c.Baseline > 0 {
		parts = append(parts, fmt.Sprintf("%d of existing work", c.Baseline))
	}
	if len(parts) == 0 {
		return ""
	}
	return ", " + strings.Join(parts, ", ")
}

// sarifSuppressions are the marks of a result, SARIF 2.1.0 section 3.27.23:
// in one run either every result has the list, empty where it counts, or none.
func sarifSuppressions(f finding.Finding, marked bool) *[]sarifSuppression {
	if !marked {
		return nil
	}
	list := []sarifSuppression{}
	if why := Excuse(f); why != "" {
		list = append(list, sarifSuppression{Kind: "external", Status: "accepted", Justification: sentence(why)})
	}
	return &list
}

type sarifSuppression struct {
	Kind          string `json:"kind"`
	Status        string `json:"status"`
	Justification string `json:"justification"`
}

// sarifNotices are about the reviewer's own files: the run itself is sound.
func sarifNotices(r finding.Review) []sarifNotification {
	var list []sarifNotification
	for _, p := range r.Notices {
		n := sarifNotification{Level: "warning", Message: sarifText{Text: sentence(p.Message + hintText(p.Hint))}}
		l := sarifLocation{}
		l.Physical.Artifact = sarifURI{URI: fileURI(p.Place.File)}
		if p.Place.Line > 0 {
			l.Physical.Region = &sarifRegion{StartLine: p.Place.Line, StartColumn: p.Place.Col}
		}
		n.Locations = []sarifLocation{l}
		n.Descriptor.ID = p.Code
		list = append(list, n)
	}
	return list
}
