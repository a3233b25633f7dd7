package report

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"sort"
	"strings"

	"backpitch/engine/calcs"
)

// A SheetWriter prints a calculation sheet.
type SheetWriter func(w io.Writer, s *calcs.Sheet, o Options) error

var sheetWriters = map[string]SheetWriter{"text": sheetText, "markdown": sheetMarkdown, "json": sheetJSON}

// SheetFormats lists the formats of a calculation sheet, sorted.
func SheetFormats() []string {
	names := make([]string, 0, len(sheetWriters))
	for name := range sheetWriters {
		names = append(names, name)
	}
	sort.Strings(names)
	return names
}

// ForSheet returns the writer of a format of a calculation sheet.
func ForSheet(format string) (SheetWriter, error) {
	if w, ok := sheetWriters[format]; ok {
		return w, nil
	}
	return nil, fmt.Errorf("no sheet format %q: choose one of %s", format, strings.Join(SheetFormats(), ", "))
}

// sheetJSON prints a sheet as schema/calcs.schema.json describes it.
func sheetJSON(w io.Writer, s *calcs.Sheet, o Options) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(struct {
		Schema string `json:"$schema"`
		Tool   struct {
			Name    string `json:"name"`
			Version string `json:"version"`
		} `json:"tool"`
		*calcs.Sheet
		Cautions []string `json:"cautions"`
	}{
		Schema: "calcs.schema.json",
		Tool: struct {
			Name    string `json:"name"`
			Version string `json:"version"`
		}{"backpitch", o.Version},
		Sheet: s, Cautions: Cautions,
	})
}

// sheetText prints a sheet for people with a pocket calculator: schedules,
// then each formula with its legend and every result it gave.
func sheetText(w io.Writer, s *calcs.Sheet, _ Options) error {
	out := bufio.NewWriter(w)
	fmt.Fprintf(out, "calculation sheet: %s\n", strings.Join(nonEmpty(s.Project.Name, s.Project.Reference, s.Project.Revision), ", "))
	fmt.Fprintf(out, "design: %s\nprofile: %s (%s, %s)\n\nmethods\n", s.File, s.Profile.ID, s.Profile.Title, s.Profile.Edition)
	for _, m := range s.Methods {
		fmt.Fprintf(out, "  - %s\n", m)
	}
	for _, t := range s.Tables {
		fmt.Fprintf(out, "\n%s\n", t.Title)
		columns(out, "  ", t.Columns, t.Rows)
		for _, n := range t.Notes {
			fmt.Fprintf(out, "  %s\n", n)
		}
	}
	for i, f := range s.Formulas {
		fmt.Fprintf(out, "\nF%d  %s\n    %s = %s\n", i+1, f.Title, f.Result.Name, f.Expression)
		for _, x := range legend(f) {
			fmt.Fprintf(out, "      %s\n", x)
		}
		fmt.Fprintf(out, "    source: %s\n", f.Source)
		for _, step := range s.Steps {
			if step.Formula == f.ID {
				stepText(out, f, step)
			}
		}
	}
	if len(s.Gaps) > 0 {
		fmt.Fprintln(out, "\nnot computed")
		for _, g := range s.Gaps {
			fmt.Fprintf(out, "  - %s: %s: %s\n", g.Subject, g.What, g.Why)
		}
	}
	fmt.Fprintf(out, "\n%s\n\ncautions\n", s.Verify)
	for _, c := range Cautions {
		fmt.Fprintf(out, "  - %s\n", c)
	}
	return out.Flush()
}

// stepText prints one result and the limits it was held against.
func stepText(w io.Writer, f calcs.Formula, s calcs.Step) {
	fmt.Fprintf(w, "\n    %s\n      %s = %s\n      %s = %s\n", stepName(s), f.Result.Name, s.Substituted, f.Result.Name, amount(s))
	for _, j := range s.Judged {
		fmt.Fprintf(w, "      %s\n", judgedText(j))
	}
	if s.Basis != "" {
		fmt.Fprintf(w, "      inputs: %s\n", s.Basis)
	}
}

// stepName says what a result is of: the subject, and its part or the fact.
func stepName(s calcs.Step) string {
	switch {
	case s.Part != "":
		return s.Subject + ", " + s.Part
	case s.Fact != "":
		return s.Subject + ", " + strings.ReplaceAll(s.Fact, "_", " ")
	}
	return s.Subject
}

// amount is a result with its unit and, where it is not exact, its ends.
func amount(s calcs.Step) string {
	text := strings.TrimSpace(s.Result + " " + s.Unit)
	if s.Low != "" {
		text += fmt.Sprintf(" (%s to %s)", s.Low, s.High)
	}
	return text
}

func judgedText(j calcs.Judged) string {
	limit := ""
	if j.Limit != "" {
		limit = ", limit " + j.Limit
	}
	return fmt.Sprintf("%s: %s%s (%s, %s)", j.Outcome, j.Rule, limit, j.Section, j.Basis)
}

// legend is the meaning of each symbol of a formula with its unit, the result
// first.
func legend(f calcs.Formula) []string {
	var lines []string
	for _, x := range append([]calcs.Symbol{f.Result}, f.Symbols...) {
		line := fmt.Sprintf("%-3s %s", x.Name, x.Meaning)
		if x.Unit != "" {
			line += ", " + x.Unit
		}
		lines = append(lines, line)
	}
	return lines
}

// columns prints rows under their heads, each column as wide as its widest cell.
func columns(w io.Writer, indent string, heads []string, rows [][]string) {
	width := make([]int, len(heads))
	all := append([][]string{heads}, rows...)
	for _, row := range all {
		for i, cell := range row {
			width[i] = max(width[i], len([]rune(cell)))
		}
	}
	for _, row := range all {
		line := indent
		for i, cell := range row {
			line += cell + strings.Repeat(" ", width[i]-len([]rune(cell))+2)
		}
		fmt.Fprintln(w, strings.TrimRight(line, " "))
	}
}
