package report

import (
	"bufio"
	"fmt"
	"io"

	"github.com/fatih/color"

	"backpitch/engine/finding"
)

// textBackcheck prints a backcheck for people.
func textBackcheck(w io.Writer, b finding.Backcheck, o Options) error {
	t := &textReport{w: bufio.NewWriter(w), o: o}
	bold := t.paint(color.Bold)
	for _, side := range []struct {
		word string
		finding.Side
	}{{"earlier:", b.Earlier}, {"later:  ", b.Later}} {
		fmt.Fprintf(t.w, "%s %s\n         %s\n", side.word, bold(sideName(side.Side)), sideProfile(side.Side))
	}
	if len(b.Notices) > 0 {
		fmt.Fprintf(t.w, "\n%s\n", t.paint(color.FgYellow, color.Bold)(plural(len(b.Notices), "notice")))
		for _, n := range b.Notices {
			fmt.Fprintf(t.w, "%s: %s\n", Place(n.Place), n.Message)
			t.hint(n.Hint)
		}
	}
	colours := map[finding.Status]color.Attribute{finding.Outstanding: color.FgRed, finding.New: color.FgRed, finding.Corrected: color.FgGreen, finding.Dropped: color.FgYellow}
	for _, g := range backcheckGroups(b, o) {
		if len(g.items) == 0 {
			continue
		}
		head := fmt.Sprintf("%s (%d)", g.title, len(g.items))
		if g.explain != "" {
			head += ", " + g.explain
		}
		fmt.Fprintf(t.w, "\n%s\n", t.paint(colours[g.status], color.Bold)(head))
		for _, i := range g.items {
			t.item(i, colours[g.status])
		}
	}
	fmt.Fprintf(t.w, "\n%s\n", elementSum(b.Elements))
	for _, line := range elementLines(b.Elements) {
		fmt.Fprintf(t.w, "    %s\n", line)
	}
	fmt.Fprintf(t.w, "\n%s\n", backcheckSum(b.Counts))
	if v := b.Later.Profile.Verify; v != "" {
		fmt.Fprintln(t.w, v)
	}
	t.cautions()
	return t.w.Flush()
}

// item prints what became of one finding.
func (t *textReport) item(i finding.Item, c color.Attribute) {
	a := shown(i)
	fmt.Fprintf(t.w, "\n%s: %s %s\n", Place(a.Place), t.paint(c, color.Bold)(itemWord(i)), t.paint(color.Bold)(i.Rule))
	fmt.Fprintf(t.w, "    %s\n", a.Message)
	for _, line := range history(i) {
		fmt.Fprintf(t.w, "    %s\n", line)
	}
	if a.Outcome == finding.Pass {
		return
	}
	if why := answerExcuse(a); why != "" {
		fmt.Fprintf(t.w, "    %s\n", why)
	}
	fmt.Fprintf(t.w, "    required: %s (%s)\n", i.Section, basisWords(i.Basis))
	if i.Remedy != "" && a.Outcome != finding.PersonDecides {
		fmt.Fprintf(t.w, "    to mend:  %s\n", i.Remedy)
	}
	fmt.Fprintf(t.w, "    %s\n", i.Verify)
}
