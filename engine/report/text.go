package report

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"github.com/fatih/color"

	"backpitch/engine/finding"
	"backpitch/engine/limit"
)

// textReport prints for people: for each file its problems, failures, what is
// not shown, what a person must look at, and the sum; then the cautions.
type textReport struct {
	w    *bufio.Writer
	o    Options
	t    tally
	rows []Row // of this run, without their rules

	printed int            // findings, of this run
	left    finding.Counts // findings of this review left out by MaxResults
	leftAll int            // of this run
}

func newText(w io.Writer, o Options) Sink {
	return &textReport{w: bufio.NewWriter(w), o: o}
}

// Review prints one review at once, so that a person sees the run go on.
func (t *textReport) Review(e Entry) error {
	if t.t.submissions > 0 {
		fmt.Fprintln(t.w)
	}
	t.add(RowOf(e))
	t.review(e.Review)
	return t.w.Flush()
}

func (t *textReport) Close() error {
	if t.t.submissions > 1 {
		fmt.Fprintln(t.w)
		t.rollUp()
	}
	t.cautions()
	return t.w.Flush()
}

func (t *textReport) paint(attrs ...color.Attribute) func(string) string {
	c := color.New(attrs...)
	if t.o.Colour {
		c.EnableColor()
	} else {
		c.DisableColor()
	}
	return func(s string) string { return c.Sprint(s) }
}

func (t *textReport) review(r finding.Review) {
	bold := t.paint(color.Bold)
	name := printable(r.File)
	if r.Project.Name != "" {
		name += ": " + strings.Join(nonEmpty(r.Project.Name, r.Project.Reference, r.Project.Revision), ", ")
	}
	fmt.Fprintln(t.w, bold(name))
	if r.Profile.ID != "" {
		fmt.Fprintf(t.w, "judged under %s (%s, %s)\n", r.Profile.ID, r.Profile.Title, r.Profile.Edition)
	}
	if r.Failure != "" {
		fmt.Fprintf(t.w, "\n%s %s\n", t.paint(color.FgRed, color.Bold)("could not check:"), r.Failure)
		t.hint(r.Hint)
		return
	}
	t.problems(r)
	if r.Rules == 0 {
		return
	}
	t.group(r, finding.Fail, "does not meet", "", color.FgRed)
	t.excused(r)
	t.group(r, finding.Open, "not shown", "open: a fact or a table entry is missing, so nobody can tell", color.FgYellow)
	t.group(r, finding.PersonDecides, "for a person to look at", "", color.FgCyan)
	t.group(r, finding.Pass, "meets", "", color.FgGreen)
	t.tellLeft()
	t.notices(r)
	t.close(r)
}

// tellLeft counts what of a review was not printed.
func (t *textReport) tellLeft() {
	c := t.left
	t.left = finding.Counts{}
	if c == (finding.Counts{}) {
		return
	}
	t.leftAll += c.Fail + c.Open + c.Review + c.Pass // --show asked for them
	fmt.Fprintf(t.w, "\n%s left out by --%s %d: %d fail, %d open, %d review, %d pass\n", plural(c.Fail+c.Open+c.Review+c.Pass, "finding"),
		limit.Results.Name, t.o.MaxResults, c.Fail, c.Open, c.Review, c.Pass)
}

func (t *textReport) leftOut() int { return t.leftAll }

func (t *textReport) problems(r finding.Review) {
	if len(r.Problems) == 0 {
		return
	}
	fmt.Fprintf(t.w, "\n%s\n", t.paint(color.FgRed, color.Bold)(plural(len(r.Problems), "problem")+" in the document"))
	for _, p := range r.Problems {
		fmt.Fprintf(t.w, "%s: %s\n", Place(p.Place), p.Message)
		t.hint(p.Hint)
	}
}

func (t *textReport) hint(h string) {
	if h != "" {
		fmt.Fprintf(t.w, "    hint: %s\n", h)
	}
}

func (t *textReport) group(r finding.Review, outcome finding.Outcome, title, explain string, c color.Attribute) {
	if t.o.Show[outcome] {
		t.list(r, title, explain, c, func(f finding.Finding) bool { return f.Outcome == outcome && !f.Excused() })
	}
}

// list prints the findings that are in a group under its title.
func (t *textReport) list(r finding.Review, title, explain string, c color.Attribute, in func(finding.Finding) bool) {
	var group []finding.Finding
	for _, f := range r.Findings {
		if in(f) {
			group = append(group, f)
		}
	}
	if len(group) == 0 {
		return
	}
	head := fmt.Sprintf("%s (%d)", title, len(group))
	if explain != "" {
		head += ", " + explain
	}
	fmt.Fprintf(t.w, "\n%s\n", t.paint(c, color.Bold)(head))
	for _, f := range group {
		if t.o.MaxResults > 0 && t.printed >= t.o.MaxResults {
			t.left = t.left.Add(finding.Count([]finding.Finding{f}))
			continue
		}
		t.printed++
		t.finding(f, c)
	}
}

func (t *textReport) finding(f finding.Finding, c color.Attribute) {
	word := string(f.Outcome)
	if f.Outcome == finding.Fail {
		word = string(f.Level)
	}
	fmt.Fprintf(t.w, "\n%s: %s %s\n", Place(f.Place), t.paint(c, color.Bold)(word), t.paint(color.Bold)(f.Rule))
	fmt.Fprintf(t.w, "    %s\n", f.Message)
	if len(f.Missing) > 0 {
		fmt.Fprintf(t.w, "    missing:  %s\n", strings.Join(f.Missing, "; "))
	}
	if figures(f) {
		line := fmt.Sprintf("found %s, limit %s", f.Measured.Text, f.Limit.Text)
		if f.Range != nil {
			line = fmt.Sprintf("found %s (%s to %s), limit %s", f.Measured.Text, f.Range.Low.Text, f.Range.High.Text, f.Limit.Text)
		}
		if f.LimitBasis != "" {
			line += fmt.Sprintf(" (figure %s)", basisWords(f.LimitBasis))
		}
		fmt.Fprintf(t.w, "    figures:  %s\n", line)
	}
	fmt.Fprintf(t.w, "    required: %s (%s)\n", f.Section, basisWords(f.Basis))
	t.excuse(f)
	if f.Remedy != "" && (f.Outcome == finding.Fail || f.Outcome == finding.Open) {
		fmt.Fprintf(t.w, "    to mend:  %s\n", f.Remedy)
	}
	if f.Outcome != finding.Pass {
		fmt.Fprintf(t.w, "    %s\n", f.Verify)
	}
}

// figures says whether found and limit tell more than the message does: a flag
// against a flag, or a fault against none, does not.
func figures(f finding.Finding) bool {
	return f.Measured != nil && f.Limit != nil && f.Limit.Kind != "flag" && f.Limit.Text != "none"
}

func (t *textReport) close(r finding.Review) {
	c := r.Counts
	fmt.Fprintf(t.w, "\n%s checked by %s: %d fail (%s, %s, %s%s), %d open, %d review, %d pass\n",
		plural(r.Subjects, "subject"), plural(r.Rules, "rule"), c.Fail,
		plural(c.Errors, "error"), plural(c.Warnings, "warning"), plural(c.Notes, "note"), excusedSum(c),
		c.Open, c.Review, c.Pass)
	fig := r.Profile.Figures
	if total := fig.Total(); total > 0 {
		fmt.Fprintf(t.w, "figures of profile %s: %d of %d (%s) checked against published text, %d from memory, %d common practice\n",
			r.Profile.ID, fig.Checked, total, share(fig.Checked, total), fig.FromMemory, fig.CommonPractice)
		fmt.Fprintln(t.w, r.Profile.Verify)
	}
}

func (t *textReport) cautions() {
	fmt.Fprintf(t.w, "\n%s\n", t.paint(color.Bold)("cautions"))
	for _, c := range Cautions {
		fmt.Fprintf(t.w, "  - %s\n", c)
	}
}

// Unchecked says that a review could not be carried out: the run or the
// document, not the design, is at fault.
func Unchecked(r finding.Review) bool { return r.Failure != "" || len(r.Problems) > 0 }

// share is a part in per cent, never 0 % for something nor 100 % for less than all.
func share(part, whole int) string {
	switch percent := part * 100 / whole; {
	case part > 0 && percent == 0:
		return "under 1 %"
	default:
		return fmt.Sprintf("%d %%", percent)
	}
}

func basisWords(b finding.Basis) string {
	if b == finding.Checked {
		return "checked against published text"
	}
	return string(b)
}

func nonEmpty(words ...string) []string {
	var kept []string
	for _, w := range words {
		if w != "" {
			kept = append(kept, w)
		}
	}
	return kept
}
