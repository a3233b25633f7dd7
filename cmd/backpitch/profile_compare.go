package main

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"github.com/urfave/cli/v2"

	"backpitch/engine/profile"
)

func profileCompareCommand() *cli.Command {
	return &cli.Command{
		Name:      "compare",
		Usage:     "set profiles side by side: rules with sections and limits, those that differ first, and every figure that differs",
		ArgsUsage: "A B…",
		Flags: []cli.Flag{
			policiesFlag(),
			&cli.StringFlag{Name: "format", Aliases: []string{"f"}, Value: "text", Usage: "`FORMAT`: text, markdown, csv, json"},
			&cli.BoolFlag{Name: "all", Usage: "print the rules that are alike, too (csv and json always have them)"},
		},
		Action: profileCompare,
	}
}

func profileCompare(c *cli.Context) error {
	names := c.Args().Slice()
	if len(names) < 2 {
		return usageError("backpitch profile compare ipc-2021 upc-2021", "name at least two profiles")
	}
	writers := map[string]func(io.Writer, profile.Comparison, bool) error{
		"text": compareText, "markdown": compareMarkdown, "csv": compareCSV, "json": compareJSON}
	write := writers[c.String("format")]
	if write == nil {
		return usageError("the formats are text, markdown, csv and json", "no format %q", c.String("format"))
	}
	eng, err := openEngine(c)
	if err != nil {
		return err
	}
	catalogue := map[string]profile.Rule{}
	var list []*profile.Profile
	for i, id := range names {
		if slices.Contains(names[:i], id) {
			return usageError("", "profile %q is named twice", id)
		}
		p, err := eng.Profile(id)
		if err != nil {
			return policyError(err)
		}
		rules, err := eng.Rules(id)
		if err != nil {
			return policyError(err)
		}
		for _, r := range rules {
			// The profile's own level is told apart in its cell.
			if old, known := catalogue[r.ID]; known {
				r.Level = old.Level
			}
			catalogue[r.ID] = r
		}
		list = append(list, p)
	}
	return writeTo("", c.App.Writer, func(out io.Writer) error {
		return write(out, profile.Compare(list, catalogue), c.Bool("all"))
	})
}

// cellText is a rule's cell on one line: section, basis, limits.
func cellText(cell profile.RuleCell) string {
	if !cell.Adopted {
		return "-"
	}
	text := cell.Section
	if len(cell.Limits) > 0 {
		text += ": " + strings.Join(cell.Limits, "; ")
	}
	return text + " (" + cell.Basis + ")"
}

func rowText(cell profile.RowCell) string {
	if cell.Value == "" {
		return "-"
	}
	return cell.Value
}

// shownRules are the rules to print, and how many are left out.
func shownRules(c profile.Comparison, all bool) (shown []profile.ComparedRule, alike int) {
	for _, r := range c.Rules {
		if r.Differs || all {
			shown = append(shown, r)
		} else {
			alike++
		}
	}
	return shown, alike
}

func compareText(out io.Writer, c profile.Comparison, all bool) error {
	rules, alike := shownRules(c, all)
	fmt.Fprintf(out, "%s\n\nrules that differ, with section, limits and basis\n", strings.Join(c.Profiles, " against "))
	for _, r := range rules {
		fmt.Fprintf(out, "\n  %s: %s\n", r.Rule, r.Title)
		w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
		for i, cell := range r.Cells {
			fmt.Fprintf(w, "    %s\t%s\n", c.Profiles[i], cellText(cell))
		}
		if err := w.Flush(); err != nil {
			return err
		}
	}
	if alike > 0 {
		fmt.Fprintf(out, "\n%d rules are alike\n", alike)
	}
	fmt.Fprintf(out, "\nfigures that differ\n")
	for _, t := range c.Tables {
		fmt.Fprintf(out, "\n  %s: %s\n", t.Table, t.Title)
		w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
		fmt.Fprintf(w, "    \t%s\n", strings.Join(c.Profiles, "\t"))
		for _, row := range t.Rows {
			fmt.Fprintf(w, "    %s", row.Key)
			for _, cell := range row.Cells {
				fmt.Fprintf(w, "\t%s", rowText(cell))
			}
			fmt.Fprintln(w)
		}
		if err := w.Flush(); err != nil {
			return err
		}
	}
	_, err := fmt.Fprintln(out, "\nverify with local authority")
	return err
}

func compareMarkdown(out io.Writer, c profile.Comparison, all bool) error {
	rules, alike := shownRules(c, all)
	fmt.Fprintf(out, "# %s\n\n## Rules that differ\n\n| rule | %s |\n|---|%s\n", strings.Join(c.Profiles, " against "),
		strings.Join(c.Profiles, " | "), strings.Repeat("---|", len(c.Profiles)))
	escape := strings.NewReplacer("|", "\\|")
	for _, r := range rules {
		fmt.Fprintf(out, "| %s |", r.Rule)
		for _, cell := range r.Cells {
			fmt.Fprintf(out, " %s |", escape.Replace(cellText(cell)))
		}
		fmt.Fprintln(out)
	}
	if alike > 0 {
		fmt.Fprintf(out, "\n%d rules are alike.\n", alike)
	}
	fmt.Fprintf(out, "\n## Figures that differ\n\n| table | key | %s |\n|---|---|%s\n", strings.Join(c.Profiles, " | "), strings.Repeat("---|", len(c.Profiles)))
	for _, t := range c.Tables {
		for _, row := range t.Rows {
			fmt.Fprintf(out, "| %s | %s |", t.Table, escape.Replace(row.Key))
			for _, cell := range row.Cells {
				fmt.Fprintf(out, " %s |", escape.Replace(rowText(cell)))
			}
			fmt.Fprintln(out)
		}
	}
	_, err := fmt.Fprintln(out, "\nVerify with local authority.")
	return err
}

// compareCSV has a line for each rule or figure under each profile, so that a
// sheet can sort and filter them.
func compareCSV(out io.Writer, c profile.Comparison, _ bool) error {
	w := csv.NewWriter(out)
	rows := [][]string{{"what", "name", "key", "differs", "profile", "value", "section", "basis"}}
	for _, r := range c.Rules {
		for i, cell := range r.Cells {
			rows = append(rows, []string{"rule", r.Rule, "", fmt.Sprint(r.Differs), c.Profiles[i], strings.Join(cell.Limits, "; "), cell.Section, cell.Basis})
		}
	}
	for _, t := range c.Tables {
		for _, row := range t.Rows {
			for i, cell := range row.Cells {
				rows = append(rows, []string{"figure", t.Table, row.Key, "true", c.Profiles[i], cell.Value, cell.Section, cell.Basis})
			}
		}
	}
	if err := w.WriteAll(rows); err != nil {
		return err
	}
	return w.Error()
}

func compareJSON(out io.Writer, c profile.Comparison, _ bool) error {
	enc := json.NewEncoder(out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(c)
}
