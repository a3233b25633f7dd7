package rulebook

import (
	"bufio"
	"fmt"
	"io"
	"strings"
)

// WriteRuleMarkdown prints one rule as markdown, its tables included.
func WriteRuleMarkdown(out io.Writer, e *Entry) error {
	w := bufio.NewWriter(out)
	markdownRule(w, e, "#", func(id string) string { return "`" + id + "`" })
	for _, t := range e.Tables {
		if !t.Short() {
			markdownTable(w, t, "##")
		}
	}
	fmt.Fprintf(w, "\nVerify with local authority.\n")
	return w.Flush()
}

// WriteMarkdown prints the whole book as one document.
func WriteMarkdown(out io.Writer, b *Book) error {
	w := bufio.NewWriter(out)
	link := func(id string) string { return fmt.Sprintf("[`%s`](#%s)", id, anchor(id)) }
	markdownFront(w, b)
	fmt.Fprintln(w, "\n## Rules")
	fmt.Fprintln(w)
	for _, t := range b.Topics {
		fmt.Fprintf(w, "- %s: ", t.Title())
		for i, e := range t.Entries {
			if i > 0 {
				fmt.Fprint(w, ", ")
			}
			fmt.Fprint(w, link(e.ID))
		}
		fmt.Fprintln(w)
	}
	for _, t := range b.Topics {
		for _, e := range t.Entries {
			fmt.Fprintf(w, "\n<a id=\"%s\"></a>\n\n", anchor(e.ID))
			markdownRule(w, e, "##", link)
		}
	}
	fmt.Fprintln(w, "\n## Tables")
	for _, t := range b.Tables {
		if !t.Short() {
			fmt.Fprintf(w, "\n<a id=\"%s\"></a>\n", anchor(t.ID))
			markdownTable(w, t, "###")
		}
	}
	return w.Flush()
}

// WriteTopic prints one topic as a document of its own, tables included.
func WriteTopic(out io.Writer, t Topic) error {
	w := bufio.NewWriter(out)
	link := func(id string) string {
		return fmt.Sprintf("[`%s`](%s.md#%s)", id, topicOf(id), anchor(id))
	}
	fmt.Fprintf(w, "# Rules: %s\n\n[All rules](README.md)\n", t.Title())
	printed := map[string]bool{}
	for _, e := range t.Entries {
		fmt.Fprintf(w, "\n<a id=\"%s\"></a>\n\n", anchor(e.ID))
		markdownRule(w, e, "##", link)
	}
	for _, e := range t.Entries {
		for _, table := range e.Tables {
			if !table.Short() && !printed[table.ID] {
				printed[table.ID] = true
				fmt.Fprintf(w, "\n<a id=\"%s\"></a>\n", anchor(table.ID))
				markdownTable(w, table, "##")
			}
		}
	}
	return w.Flush()
}

// WriteContents prints the front page of a book whose topics are documents of
// their own.
func WriteContents(out io.Writer, b *Book) error {
	w := bufio.NewWriter(out)
	markdownFront(w, b)
	for _, t := range b.Topics {
		fmt.Fprintf(w, "\n## [%s](%s.md)\n\n", t.Title(), t.Name)
		for _, e := range t.Entries {
			fmt.Fprintf(w, "- [`%s`](%s.md#%s): %s\n", e.ID, t.Name, anchor(e.ID), cell(e.Title))
		}
	}
	return w.Flush()
}

func markdownFront(w io.Writer, b *Book) {
	fmt.Fprintf(w, "# Rule book\n\n%s\n\n", intro)
	for _, c := range howToRead {
		fmt.Fprintf(w, "- %s\n", c)
	}
	fmt.Fprint(w, "\n## Profiles\n\n| profile | title, edition | rules | figures checked | from memory | common practice |\n| --- | --- | --- | --- | --- | --- |\n")
	for _, p := range b.Profiles {
		fmt.Fprintf(w, "| `%s` | %s, %s | %d | %d | %d | %d |\n", p.ID, cell(p.Title), cell(p.Edition), p.Rules,
			p.Figures.Checked, p.Figures.FromMemory, p.Figures.CommonPractice)
	}
}

func markdownRule(w io.Writer, e *Entry, heading string, link func(id string) string) {
	fmt.Fprintf(w, "%s `%s`: %s\n\n%s\n\n", heading, e.ID, e.Title, e.Description)
	fmt.Fprintf(w, "- **Level:** %s\n- **Why it matters:** %s\n- **To mend:** %s\n", e.Level, e.Rationale, e.Remedy)
	if len(e.Needs) > 0 {
		fmt.Fprintf(w, "- **Facts it needs:** %s\n", strings.Join(e.Needs, ", "))
	}
	markdownExample(w, e.Example)
	fmt.Fprint(w, "\n| adopted by | section | basis | level | source |\n| --- | --- | --- | --- | --- |\n")
	for _, a := range e.Adoptions {
		fmt.Fprintf(w, "| %s | %s | %s | %s | %s |\n", strings.Join(a.Profiles, ", "), cell(a.Section), a.Basis, a.Level, cell(a.Source))
	}
	var long []string
	for _, t := range e.Tables {
		if t.Short() {
			markdownTable(w, t, heading+"#")
		} else {
			long = append(long, fmt.Sprintf("[%s](#%s)", t.Title, anchor(t.ID)))
		}
	}
	if len(long) > 0 {
		fmt.Fprintf(w, "\n**Tables:** %s\n", strings.Join(long, "; "))
	}
	if len(e.Related) > 0 {
		fmt.Fprint(w, "\n**Related:**\n\n")
		for _, r := range e.Related {
			fmt.Fprintf(w, "- %s: %s\n", link(r.ID), r.Why)
		}
	}
}

func markdownExample(w io.Writer, x *Example) {
	if x == nil {
		fmt.Fprint(w, "\nNo example is kept of this rule.\n")
		return
	}
	fmt.Fprintf(w, "\n**%s** under `%s`%s\n\n```\n%s\n```\n\n> %s\n", x.Failing.Verb(), x.Profile, because(x), x.Failing.JSON, x.Failing.Says)
	if x.Passing == nil {
		fmt.Fprintf(w, "\n%s\n", x.NonePasses())
		return
	}
	fmt.Fprintf(w, "\n**Passes**%s\n\n```\n%s\n```\n\n> %s\n", x.elsewhere(), x.Passing.JSON, x.Passing.Says)
}

func markdownTable(w io.Writer, t *Table, heading string) {
	fmt.Fprintf(w, "\n%s %s (`%s`)\n\n", heading, t.Title, t.ID)
	if len(t.Keys) == 0 {
		fmt.Fprint(w, "| profile | figure | section | basis |\n| --- | --- | --- | --- |\n")
		for _, c := range t.Columns {
			fmt.Fprintf(w, "| %s | %s | %s | %s |\n", strings.Join(c.Profiles, ", "), cell(c.Cells[0].String()), cell(c.Section), c.Basis)
		}
		return
	}
	fmt.Fprintf(w, "| %s |", strings.Join(t.Keys, ", "))
	for _, c := range t.Columns {
		fmt.Fprintf(w, " %s |", strings.Join(c.Profiles, ", "))
	}
	fmt.Fprintf(w, "\n| --- |%s\n", strings.Repeat(" --- |", len(t.Columns)))
	for i, row := range t.Rows {
		fmt.Fprintf(w, "| %s |", cell(row))
		for _, c := range t.Columns {
			fmt.Fprintf(w, " %s |", cell(c.Cells[i].String()))
		}
		fmt.Fprintln(w)
	}
	for _, line := range []struct {
		name string
		of   func(Column) string
	}{
		{"section", func(c Column) string { return c.Section }},
		{"basis", func(c Column) string { return string(c.Basis) }},
	} {
		fmt.Fprintf(w, "| *%s* |", line.name)
		for _, c := range t.Columns {
			fmt.Fprintf(w, " *%s* |", cell(line.of(c)))
		}
		fmt.Fprintln(w)
	}
}

// String is the figure, with its basis where that is not the column's.
func (c Cell) String() string {
	switch {
	case c.Text == "":
		return "-"
	case c.Basis != "":
		return c.Text + " (" + string(c.Basis) + ")"
	}
	return c.Text
}

// Short reports whether the table is printed where a rule stands, and not at
// the end of the book.
func (t *Table) Short() bool { return len(t.Rows) <= 6 }

// cell keeps a text from breaking a table row.
func cell(text string) string {
	return strings.NewReplacer("|", "\\|", "\n", " ").Replace(text)
}

// anchor is the name of a place in the book.
func anchor(id string) string { return strings.NewReplacer("/", "-", ".", "-").Replace(id) }

const intro = "What every rule checks, why, an example that fails and one that passes, and what each profile asks for. " +
	"Made from the rules' own METADATA, the profiles and reviews of demonstration designs."

var howToRead = []string{
	"A pre-check, not an approval: the adopted local code and the authority having jurisdiction govern. Verify every figure with the local authority; a licensed plumber and a licensed electrician confirm the design.",
	"Checked: the figure was seen in a published text. From memory: it was not. Common practice: a fact of the trade, no code text.",
	"Examples are excerpts of invented designs: … stands for what is left out.",
	"Sewer gas can poison and explode, water and electricity kill, trenches collapse: no rule here replaces care on site.",
}
