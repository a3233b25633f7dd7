package report

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"

	"backpitch/engine/calcs"
	"backpitch/engine/finding"
)

// markdownLetters prints correction lists for a mail, a wiki or a pull request.
// Several stand in one document under an index, for which the letters wait in a
// spool.
type markdownLetters struct {
	w     io.Writer
	o     Options
	body  spool
	index []indexed
}

// indexed is a letter in the index of a document.
type indexed struct {
	Prefix, Name, File, Sum string
}

func newMarkdown(w io.Writer, o Options) Sink {
	return &markdownLetters{w: w, o: o, body: spool{open: o.Spool}}
}

func (m *markdownLetters) Review(e Entry) error {
	l := newLetter(e, len(m.index)+1, m.o)
	m.index = append(m.index, indexed{l.Prefix, l.name(), l.File, l.sum()})
	var buf bytes.Buffer
	out := mdWriter{bufio.NewWriter(&buf)}
	out.letter(l)
	if err := out.Flush(); err != nil {
		return err
	}
	_, err := m.body.Write(cleanLines(buf.Bytes()))
	return err
}

func (m *markdownLetters) Close() error {
	var buf bytes.Buffer
	out := mdWriter{bufio.NewWriter(&buf)}
	if len(m.index) == 1 {
		fmt.Fprint(out, "# Correction list\n")
	} else {
		fmt.Fprintf(out, "# Correction lists of %s\n\n", plural(len(m.index), "submission"))
		for n, i := range m.index {
			fmt.Fprintf(out, "%d. %s: %s\n", n+1, plainMarkdown(strings.Join(nonEmpty(i.Name, i.File), ", ")), plainMarkdown(i.Sum))
		}
	}
	if err := out.Flush(); err != nil {
		return err
	}
	if _, err := m.w.Write(cleanLines(buf.Bytes())); err != nil {
		return err
	}
	return m.body.copyTo(m.w)
}

// name is what a letter calls its submission.
func (l *letter) name() string {
	return strings.Join(nonEmpty(l.Project.Name, l.Project.Reference, l.Project.Revision), ", ")
}

// sum is a letter in a line.
func (l *letter) sum() string {
	if !l.Judged {
		return "could not be checked"
	}
	c := l.Counts
	return fmt.Sprintf("%d to settle, %d not shown, %d to see on site or to decide", c.Errors+c.Warnings+c.Notes, c.Open, c.Review)
}

// headLines are the fields of the title block.
func (l *letter) headLines() []term {
	code := strings.Join(nonEmpty(l.Profile.Title, l.Profile.Edition), ", ")
	if strings.Contains(l.Profile.Title, l.Profile.Edition) {
		code = l.Profile.Title
	}
	if l.Profile.ID != "" {
		code += " (profile " + l.Profile.ID + ")"
	}
	var list []term
	for _, t := range []term{
		{"Project", l.Project.Name}, {"Reference", l.Project.Reference}, {"Revision", l.Project.Revision}, {"Drawing", l.File},
		{"Checked against", strings.TrimSpace(code)}, {"Authority", l.Profile.Authority}, {"Applicant", l.Head.Applicant}, {"Reviewer", l.Head.Reviewer}, {"Date", l.Head.Date},
	} {
		if t.Text != "" {
			list = append(list, t)
		}
	}
	return list
}

type mdWriter struct{ *bufio.Writer }

func (w mdWriter) section(level int, title string) {
	fmt.Fprintf(w, "\n%s %s\n", strings.Repeat("#", level), title)
}

func (w mdWriter) letter(l *letter) {
	name := l.Project.Name
	if name == "" {
		name = l.File
	}
	w.section(2, plainMarkdown(name))
	fmt.Fprintln(w)
	for _, t := range l.headLines() {
		fmt.Fprintf(w, "- %s: %s\n", t.Name, plainMarkdown(t.Text))
	}
	if !l.Judged {
		w.unchecked(l)
	}
	for _, p := range l.Opening {
		fmt.Fprintf(w, "\n%s\n", plainMarkdown(p))
	}
	if len(l.Topics) > 0 {
		w.section(3, "To settle")
		for _, t := range l.Topics {
			w.section(4, plainMarkdown(t.Title))
			w.items(t.Items, "")
		}
	}
	for _, g := range l.groups() {
		if len(g.Items) > 0 {
			w.section(3, g.Title)
			fmt.Fprintf(w, "\n%s\n", g.About)
			w.items(g.Items, g.Box)
		}
	}
	w.figures(l)
	w.notices(l.Notices)
	w.section(3, "Cautions")
	fmt.Fprintln(w)
	for _, c := range l.Closing {
		fmt.Fprintf(w, "- %s\n", plainMarkdown(sentence(c)))
	}
}

// group is a list of items with what it is.
type group struct {
	Anchor, Title, About, Box string
	Items                     []item
}

// groups are the lists that follow the corrections.
func (l *letter) groups() []group {
	return []group{
		{l.Prefix + "open", "Not shown", "The drawing does not show these, so nobody can say that the rules named are met. Please show them on the next drawing.", "", l.Open},
		{l.Prefix + "decide", "For a reviewer to decide", "The rules leave these to a person.", "", l.Decide},
		{l.Prefix + "on-file", "Approvals on file", "These do not meet the rule named. Somebody with the authority to do so has accepted each, on the condition given.", "", l.Approved},
		{l.Prefix + "existing", "Existing work that stays", "These do not meet the rule named, and were there before. They count again as soon as that part of the work is changed.", "", l.Existing},
		{l.Prefix + "site", "Inspection list", "A drawing cannot show these. Have each seen on site before the work is covered.", "[ ] ", l.Site},
	}
}

func (w mdWriter) items(items []item, box string) {
	fmt.Fprintln(w)
	for _, i := range items {
		number := fmt.Sprintf("%d. ", i.N)
		indent := strings.Repeat(" ", len(number))
		tag := " (" + i.Tag + ")"
		if i.Tag == "not shown" || box != "" {
			tag = "" // its heading says so
		}
		fmt.Fprintf(w, "%s%s**%s**%s\n", number, box, plainMarkdown(i.Title), tag)
		var where []string
		for _, s := range i.Spots {
			where = append(where, strings.Join(nonEmpty(s.Name, s.Line), ", "))
		}
		terms := slices.Clone(i.Terms)
		if place := (term{"Place", strings.Join(where, "; ")}); i.Many() {
			terms = append(terms, place)
		} else if box == "" && place.Text != "" {
			terms = slices.Insert(terms, 0, place)
		}
		if i.Text != "" {
			fmt.Fprintf(w, "%s- %s\n", indent, plainMarkdown(i.Text))
		}
		if i.Approval != "" {
			fmt.Fprintf(w, "%s- On file: %s\n", indent, plainMarkdown(sentence(i.Approval)))
		}
		for _, t := range terms {
			fmt.Fprintf(w, "%s- %s: %s\n", indent, t.Name, plainMarkdown(t.Text))
		}
	}
}

func (w mdWriter) unchecked(l *letter) {
	w.section(3, "This drawing could not be checked")
	if l.Failure != "" {
		fmt.Fprintf(w, "\n%s\n", plainMarkdown(sentence(l.Failure+hintText(l.Hint))))
	}
	if len(l.Problems) == 0 {
		return
	}
	fmt.Fprintf(w, "\nThe document cannot be read, or contradicts itself. Please mend these and send it again.\n\n")
	for n, p := range l.Problems {
		fmt.Fprintf(w, "%d. %s: %s\n", n+1, plainMarkdown(Place(p.Place)), plainMarkdown(p.Message+hintText(p.Hint)))
	}
}

func (w mdWriter) figures(l *letter) {
	if len(l.Loads) > 0 {
		w.section(3, "Fixture units")
		w.tables(l.Loads)
	}
	if len(l.Pumped)+len(l.Steps)+len(l.Gaps) == 0 {
		return
	}
	w.section(3, "Pump calculation")
	w.tables(l.Pumped)
	if len(l.Steps) > 0 {
		fmt.Fprint(w, "\nStep by step; the calculation sheet has the legend and the source of each formula.\n\n")
		markdownCells(w, []string{"for", "what", "numbers", "result", "judged"})
		fmt.Fprintln(w, "|"+strings.Repeat(" --- |", 5))
		for _, s := range l.Steps {
			markdownCells(w, []string{s.For, s.Title, s.Numbers, s.Result, s.Judged})
		}
	}
	if len(l.Gaps) > 0 {
		fmt.Fprint(w, "\nNot computed:\n\n")
		for _, g := range l.Gaps {
			fmt.Fprintf(w, "- %s\n", plainMarkdown(gapText(g)))
		}
	}
}

func gapText(g calcs.Gap) string { return fmt.Sprintf("%s of %s: %s", g.What, g.Subject, g.Why) }

func (w mdWriter) tables(tables []calcs.Table) {
	for _, t := range tables {
		fmt.Fprintf(w, "\n**%s**\n\n", plainMarkdown(t.Title))
		markdownCells(w, t.Columns)
		fmt.Fprintln(w, "|"+strings.Repeat(" --- |", len(t.Columns)))
		for _, row := range t.Rows {
			markdownCells(w, row)
		}
		for _, n := range t.Notes {
			fmt.Fprintf(w, "\n%s\n", plainMarkdown(sentence(n)))
		}
	}
}

func markdownCells(w io.Writer, cells []string) {
	safe := make([]string, len(cells))
	for i, c := range cells {
		safe[i] = plainMarkdown(c)
	}
	fmt.Fprintf(w, "| %s |\n", strings.Join(safe, " | "))
}

func (w mdWriter) notices(list []finding.Problem) {
	if len(list) == 0 {
		return
	}
	w.section(3, "For the reviewer: approvals and baseline")
	fmt.Fprintln(w)
	for _, n := range list {
		fmt.Fprintf(w, "- %s: %s\n", plainMarkdown(Place(n.Place)), plainMarkdown(n.Message+hintText(n.Hint)))
	}
}
