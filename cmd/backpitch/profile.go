package main

import (
	"fmt"
	"io"
	"sort"
	"strings"
	"text/tabwriter"

	"github.com/urfave/cli/v2"

	"backpitch/engine/finding"
	"backpitch/engine/profile"
)

func profileCommand() *cli.Command {
	return &cli.Command{
		Name:  "profile",
		Usage: "the jurisdictions a design can be judged under",
		Subcommands: []*cli.Command{
			{Name: "list", Usage: "list the profiles and how much of each is checked", Flags: []cli.Flag{policiesFlag()}, Action: profileList},
			{Name: "show", Usage: "print what a profile adopts and its figures, each with its basis", ArgsUsage: "ID", Flags: []cli.Flag{policiesFlag()}, Action: profileShow},
		},
	}
}

func profileList(c *cli.Context) error {
	eng, err := openEngine(c)
	if err != nil {
		return err
	}
	list, err := eng.Profiles()
	if err != nil {
		return policyError(err)
	}
	w := tabwriter.NewWriter(c.App.Writer, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "profile\tunits\trules\tfigures checked\tfrom memory\tcommon practice\ttitle, edition")
	for _, p := range list {
		fmt.Fprintf(w, "%s\t%s\t%d\t%s\t%d\t%d\t%s, %s\n", p.ID, unitsWord(p.Units), p.Rules, checkedShare(p.Figures),
			p.Figures.FromMemory, p.Figures.CommonPractice, p.Title, p.Edition)
	}
	return w.Flush()
}

func checkedShare(f finding.FigureCounts) string {
	if f.Total() == 0 {
		return "none"
	}
	percent := f.Checked * 100 / f.Total()
	if f.Checked > 0 && percent == 0 {
		return fmt.Sprintf("%d of %d (under 1 %%)", f.Checked, f.Total())
	}
	return fmt.Sprintf("%d of %d (%d %%)", f.Checked, f.Total(), percent)
}

func profileShow(c *cli.Context) error {
	if c.NArg() != 1 {
		return usageError("backpitch profile show ID; backpitch profile list shows them", "name one profile")
	}
	eng, err := openEngine(c)
	if err != nil {
		return err
	}
	p, err := eng.Profile(c.Args().First())
	if err != nil {
		return policyError(err)
	}
	printProfile(c.App.Writer, p)
	return nil
}

func printProfile(out io.Writer, p *profile.Profile) {
	fmt.Fprintf(out, "%s: %s, %s\n", p.ID, p.Title, p.Edition)
	fmt.Fprintf(out, "authority: %s\n", p.Authority)
	if p.Amends != "" {
		fmt.Fprintf(out, "amends: %s\n", strings.Join(p.Chain[1:], ", which amends "))
	}
	fmt.Fprintf(out, "units: %s\n", unitsWord(p.Units))
	fmt.Fprintf(out, "figures checked against published text: %s\n", checkedShare(p.Figures()))
	fmt.Fprintf(out, "%s\n", p.Verify)

	fmt.Fprintf(out, "\nrules adopted (%d)\n", len(p.Adopts))
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	for _, id := range p.Rules() {
		a := p.Adopts[id]
		fmt.Fprintf(w, "  %s\t%s\t%s\t%s\n", id, a.Section, a.Basis, from(p, a.From))
	}
	w.Flush()

	fmt.Fprintf(out, "\nfixture loads (%d)\n", len(p.Fixtures))
	w = tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	for _, f := range p.Fixtures {
		fmt.Fprintf(w, "  %s\t%s\t%s\t%s\t%s\n", f.Class, loadText(p, f.Load), f.Section, f.Basis, from(p, f.From))
	}
	w.Flush()

	fmt.Fprintf(out, "\ntables (%d)\n", len(p.Tables()))
	for _, id := range p.Tables() {
		t := p.Table(id)
		fmt.Fprintf(out, "  %s: %s\n", id, t.Title)
		w = tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
		for _, row := range t.Rows() {
			fmt.Fprintf(w, "    %s\t%s\t%s\t%s\t%s\n", keyText(row), valueText(t, row, p.Units), row.Section, row.Basis, from(p, row.From))
		}
		w.Flush()
	}

	fmt.Fprintf(out, "\nsources\n")
	keys := make([]string, 0, len(p.Sources))
	for key := range p.Sources {
		keys = append(keys, key)
	}
	sort.Strings(keys)
	for _, key := range keys {
		s := p.Sources[key]
		fmt.Fprintf(out, "  %s: %s\n", key, strings.Join(nonEmptyWords(s.Title, s.URL, s.Note), "; "))
	}
}

// from says which profile a figure comes from, where it is not this one's own.
func from(p *profile.Profile, id string) string {
	if id == "" || id == p.ID {
		return ""
	}
	return "from " + id
}

func nonEmptyWords(words ...string) []string {
	var kept []string
	for _, w := range words {
		if w != "" {
			kept = append(kept, w)
		}
	}
	return kept
}
