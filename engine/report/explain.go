package report

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"backpitch/engine/finding"
)

// WriteExplanation prints why a rule gave its outcome, for people.
func WriteExplanation(out io.Writer, e *finding.Explanation, _ Options) error {
	w := bufio.NewWriter(out)
	f := e.Finding
	fmt.Fprintf(w, "%s: %s %s, under %s\n    %s\n", Place(f.Place), asLevel(f), f.Rule, e.Profile.ID, printable(f.Message))
	fmt.Fprintf(w, "\nthe rule: %s (%s)\n    %s\n    why: %s\n", f.Title, e.RuleFile, e.Description, e.Rationale)
	fmt.Fprintf(w, "    adopted: %s\n", cited(f.Section, f.Basis, f.Source))
	factLines(w, e.Facts)
	figureLines(w, e.Figures)
	fmt.Fprintf(w, "\nthe comparison\n    %s\n", printable(e.Comparison))
	if len(e.Formulas) > 0 {
		fmt.Fprintln(w, "\nhow its facts were computed")
		for _, step := range e.Formulas {
			formulaLines(w, step)
		}
	}
	if len(e.Changes) > 0 {
		fmt.Fprintln(w, "\nwhat would change the outcome")
		for _, c := range e.Changes {
			fmt.Fprintf(w, "    %s\n", printable(c))
		}
	}
	fmt.Fprintf(w, "\n%s\n", e.Profile.Verify)
	return w.Flush()
}

// cited is section, basis and source, nothing twice.
func cited(section string, basis finding.Basis, source string) string {
	if section == string(basis) {
		section = ""
	}
	return strings.Join(nonEmpty(section, string(basis), source), "; ")
}

func asLevel(f finding.Finding) string {
	if f.Outcome == finding.Fail {
		return string(f.Level)
	}
	return string(f.Outcome)
}

func factLines(w io.Writer, list []finding.FactRead) {
	if len(list) == 0 {
		return
	}
	fmt.Fprintln(w, "\nfacts it looked at")
	tw := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, f := range list {
		value := f.Value
		if f.Missing {
			value = "not shown"
			if f.Needed {
				value = "not shown, and needed"
			}
		}
		fmt.Fprintf(tw, "    %s\t%s\t%s\n", f.Name, printable(value), f.Doc)
	}
	tw.Flush()
}

func figureLines(w io.Writer, list []finding.FigureRead) {
	if len(list) == 0 {
		return
	}
	fmt.Fprintln(w, "\nfigures of the profile")
	for _, f := range list {
		fmt.Fprintf(w, "    %s", f.Table)
		if f.Title != "" {
			fmt.Fprintf(w, ": %s", f.Title)
		}
		switch {
		case f.Why != "":
			fmt.Fprintf(w, "\n        %s", f.Why)
		case f.Key != "":
			fmt.Fprintf(w, "\n        row %s: %s", f.Key, f.Value)
		default:
			fmt.Fprintf(w, "\n        %s", f.Value)
		}
		if f.Limit {
			fmt.Fprint(w, ", the limit")
		}
		if f.From != "" {
			fmt.Fprintf(w, "\n        stated by %s: %s", f.From, cited(f.Section, f.Basis, f.Source))
		}
		if f.Note != "" {
			fmt.Fprintf(w, "\n        note: %s", f.Note)
		}
		fmt.Fprintln(w)
	}
}

func formulaLines(w io.Writer, f finding.Formula) {
	title := f.Title
	if f.Fact != "" {
		title = f.Fact + ": " + title
	}
	fmt.Fprintf(w, "    %s\n        %s\n        = %s\n        = %s\n", title, f.Expression, f.Substituted, f.Result)
	for _, l := range f.Legend {
		fmt.Fprintf(w, "        %s\n", l)
	}
	if about := strings.Join(nonEmpty(f.Source, f.Basis, f.Note), "; "); about != "" {
		fmt.Fprintf(w, "        %s\n", about)
	}
}

// WriteExplanationJSON prints the same for programs.
func WriteExplanationJSON(out io.Writer, e *finding.Explanation, _ Options) error {
	enc := json.NewEncoder(out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(e)
}
