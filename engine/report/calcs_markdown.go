package report

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"backpitch/engine/calcs"
)

// sheetMarkdown prints a sheet with tables and code, for a pull request or a
// wiki.
func sheetMarkdown(w io.Writer, s *calcs.Sheet, _ Options) error {
	out := bufio.NewWriter(w)
	fmt.Fprintf(out, "# Calculation sheet: %s\n\n", plain(strings.Join(nonEmpty(s.Project.Name, s.Project.Reference, s.Project.Revision), ", ")))
	fmt.Fprintf(out, "Design %s under profile %s (%s, %s).\n\n## Methods\n\n", plain(s.File), s.Profile.ID, plain(s.Profile.Title), plain(s.Profile.Edition))
	for _, m := range s.Methods {
		fmt.Fprintf(out, "- %s\n", plain(m))
	}
	for _, t := range s.Tables {
		fmt.Fprintf(out, "\n## %s\n\n", plain(t.Title))
		markdownRow(out, t.Columns)
		fmt.Fprintln(out, "|"+strings.Repeat(" --- |", len(t.Columns)))
		for _, row := range t.Rows {
			markdownRow(out, row)
		}
		for _, n := range t.Notes {
			fmt.Fprintf(out, "\n%s\n", plain(n))
		}
	}
	for i, f := range s.Formulas {
		fmt.Fprintf(out, "\n## F%d: %s\n\n```\n%s = %s\n", i+1, f.Title, f.Result.Name, f.Expression)
		for _, x := range legend(f) {
			fmt.Fprintf(out, "  %s\n", x)
		}
		fmt.Fprintf(out, "```\n\nSource: %s\n\n", plain(f.Source))
		markdownRow(out, []string{"for", "substituted", "result", "judged"})
		fmt.Fprintln(out, "| --- | --- | --- | --- |")
		for _, step := range s.Steps {
			if step.Formula != f.ID {
				continue
			}
			var judged []string
			for _, j := range step.Judged {
				judged = append(judged, judgedText(j))
			}
			fmt.Fprintf(out, "| %s | `%s` | %s | %s |\n", plain(stepName(step)), step.Substituted, amount(step), plain(strings.Join(judged, "; ")))
		}
	}
	if len(s.Gaps) > 0 {
		fmt.Fprint(out, "\n## Not computed\n\n")
		for _, g := range s.Gaps {
			fmt.Fprintf(out, "- %s: %s: %s\n", plain(g.Subject), plain(g.What), plain(g.Why))
		}
	}
	fmt.Fprintf(out, "\n%s\n\n## Cautions\n\n", plain(s.Verify))
	for _, c := range Cautions {
		fmt.Fprintf(out, "- %s\n", c)
	}
	return out.Flush()
}

func markdownRow(w io.Writer, cells []string) {
	escaped := make([]string, len(cells))
	for i, c := range cells {
		escaped[i] = plain(c)
	}
	fmt.Fprintf(w, "| %s |\n", strings.Join(escaped, " | "))
}

// plain keeps user text from being read as markup.
func plain(s string) string {
	return strings.NewReplacer(`\`, `\\`, "|", `\|`, "*", `\*`, "_", `\_`, "`", "\\`", "<", "&lt;", "[", `\[`, "#", `\#`, "\n", " ").Replace(s)
}
