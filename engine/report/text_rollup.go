package report

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/fatih/color"

	"backpitch/engine/finding"
)

// textRollUp prints the end of a batch report alone.
type textRollUp struct{ t *textReport }

func newTextRollUp(w io.Writer, o Options) RowSink {
	return textRollUp{&textReport{w: bufio.NewWriter(w), o: o}}
}

func (s textRollUp) Row(r Row) error {
	s.t.add(r)
	return nil
}

func (s textRollUp) Close() error {
	s.t.rollUp()
	s.t.cautions()
	return s.t.w.Flush()
}

func (t *textReport) add(r Row) {
	t.t.add(r)
	r.Rules = nil
	t.rows = append(t.rows, r)
}

// rollUp prints a line for each submission, a line for each rule that failed,
// and the sums.
func (t *textReport) rollUp() {
	bold := t.paint(color.Bold)
	fmt.Fprintln(t.w, bold("submissions"))
	fmt.Fprintf(t.w, "  %-11s  %6s %6s %6s %6s", "worst", "fail", "open", "review", "pass")
	if t.o.Times {
		fmt.Fprintf(t.w, " %6s", "ms")
	}
	fmt.Fprintln(t.w)
	for _, r := range t.rows {
		t.row(r)
	}
	t.commonest()
	c := t.t.counts
	fmt.Fprintf(t.w, "\n%s, %d of them could not be checked: %d fail (%s, %s, %s%s), %d open, %d review, %d pass\n",
		plural(t.t.submissions, "file"), t.t.unchecked, c.Fail,
		plural(c.Errors, "error"), plural(c.Warnings, "warning"), plural(c.Notes, "note"), excusedSum(c), c.Open, c.Review, c.Pass)
}

func (t *textReport) row(r Row) {
	c := r.Counts
	paint := t.paint(colourOf(r.Worst))
	fmt.Fprintf(t.w, "  %s  %6d %6d %6d %6d", paint(fmt.Sprintf("%-11s", r.Worst)), c.Fail, c.Open, c.Review, c.Pass)
	if t.o.Times {
		fmt.Fprintf(t.w, " %6d", r.Took.Milliseconds())
	}
	fmt.Fprintf(t.w, "  %s\n", strings.Join(nonEmpty(printable(r.File), r.Project.Name), ": "))
}

func colourOf(worst string) color.Attribute {
	switch worst {
	case NotChecked, string(finding.Error):
		return color.FgRed
	case string(finding.Warning), string(finding.Note), string(finding.Open):
		return color.FgYellow
	case string(finding.PersonDecides):
		return color.FgCyan
	}
	return color.FgGreen
}

// commonest prints the rules that failed, and those that designs leave open:
// what a department asks for most often.
func (t *textReport) commonest() {
	bold := t.paint(color.Bold)
	var failed, open []RuleSum
	for _, r := range t.t.commonest() {
		if r.Fail > 0 {
			failed = append(failed, r)
		}
		if r.Open > 0 {
			open = append(open, r)
		}
	}
	if len(failed) > 0 {
		fmt.Fprintf(t.w, "\n%s\n  %11s  %8s  %s\n", bold("commonest corrections"), "submissions", "failures", "rule")
	}
	for _, r := range failed {
		fmt.Fprintf(t.w, "  %11d  %8d  %s: %s\n", r.Submissions, r.Fail, r.Rule, r.Title)
	}
	slices.SortStableFunc(open, func(a, b RuleSum) int { return cmp.Or(cmp.Compare(b.Open, a.Open), cmp.Compare(a.Rule, b.Rule)) })
	if len(open) > 0 {
		fmt.Fprintf(t.w, "\n%s\n  %6s  %s\n", bold("most often not shown"), "open", "rule")
	}
	for _, r := range open {
		fmt.Fprintf(t.w, "  %6d  %s: %s\n", r.Open, r.Rule, r.Title)
	}
}
