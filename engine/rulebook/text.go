package rulebook

import (
	"bufio"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"backpitch/engine/finding"
)

// verify ends everything the book says of figures.
const verify = "verify with local authority"

// WriteText prints one rule for a terminal.
func WriteText(out io.Writer, e *Entry) error {
	w := bufio.NewWriter(out)
	fmt.Fprintf(w, "%s: %s (%s)\n\n%s\n\n", e.ID, e.Title, e.Level, e.Description)
	fmt.Fprintf(w, "why: %s\nto mend: %s\n", e.Rationale, e.Remedy)
	if len(e.Needs) > 0 {
		fmt.Fprintf(w, "needs the facts: %s\n", strings.Join(e.Needs, ", "))
	}
	fmt.Fprintf(w, "written in: %s\n", e.File)
	textExample(w, e)
	fmt.Fprintln(w, "\nadopted by")
	for _, a := range e.Adoptions {
		fmt.Fprintf(w, "  %s: %s (%s; %s)", strings.Join(a.Profiles, ", "), a.Section, a.Basis, a.Source)
		if a.Level != e.Level {
			fmt.Fprintf(w, ", as %s", a.Level)
		}
		fmt.Fprintln(w)
	}
	for _, t := range e.Tables {
		textTable(w, t)
	}
	if len(e.Related) > 0 {
		fmt.Fprintln(w, "\nrelated rules")
		tw := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
		for _, r := range e.Related {
			fmt.Fprintf(tw, "  %s\t%s\n", r.ID, r.Why)
		}
		tw.Flush()
	}
	fmt.Fprintf(w, "\n%s\n", verify)
	return w.Flush()
}

func textExample(w io.Writer, e *Entry) {
	x := e.Example
	if x == nil {
		fmt.Fprintln(w, "\nno example is kept of this rule")
		return
	}
	fmt.Fprintf(w, "\nexample that %s, under %s%s\n%s\n  %s\n", x.Failing.verb(), x.Profile, because(x), indented(x.Failing.JSON), x.Failing.Says)
	if x.Passing == nil {
		fmt.Fprintf(w, "%s\n", x.NonePasses())
		return
	}
	fmt.Fprintf(w, "example that passes%s\n%s\n  %s\n", x.elsewhere(), indented(x.Passing.JSON), x.Passing.Says)
}

// verb says what became of a case.
func (c Case) verb() string {
	switch c.Outcome {
	case finding.PersonDecides:
		return "a person decides"
	case finding.Open:
		return "stays open"
	case finding.Pass:
		return "passes"
	}
	return "fails"
}

// Verb is the heading of a case.
func (c Case) Verb() string {
	text := c.verb()
	return strings.ToUpper(text[:1]) + text[1:]
}

func because(x *Example) string {
	if x.Why == "" {
		return ""
	}
	return ": " + x.Why
}

func (x *Example) elsewhere() string {
	if x.Passing.Profile == "" {
		return ""
	}
	return ", under " + x.Passing.Profile
}

// NonePasses says why there is no example that passes.
func (x *Example) NonePasses() string {
	if x.Failing.Outcome == finding.PersonDecides {
		return "No drawing passes it: a person always decides."
	}
	return "No demonstration design passes it."
}

func indented(text string) string { return "    " + strings.ReplaceAll(text, "\n", "\n    ") }

func textTable(w io.Writer, t *Table) {
	fmt.Fprintf(w, "\n%s: %s\n", t.ID, t.Title)
	for _, c := range t.Columns {
		fmt.Fprintf(w, "  %s", strings.Join(c.Profiles, ", "))
		if len(t.Keys) == 0 {
			fmt.Fprintf(w, ": %s", c.Cells[0].Text)
		}
		fmt.Fprintf(w, " (%s)\n", strings.Join(c.Cite(), "; "))
		if len(t.Keys) == 0 {
			continue
		}
		tw := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
		for _, cell := range c.Cells {
			if cell.Text == "" {
				continue
			}
			fmt.Fprintf(tw, "    %s\t%s", cell.Key, cell.Text)
			if cell.Basis != "" {
				fmt.Fprintf(tw, "\t%s", cell.Basis)
			}
			fmt.Fprintln(tw)
		}
		tw.Flush()
	}
}

// Cite is section, basis and source of most of the column's figures.
func (c Column) Cite() []string {
	var out []string
	for _, s := range []string{c.Section, string(c.Basis), c.Source} {
		if s != "" {
			out = append(out, s)
		}
	}
	return out
}
