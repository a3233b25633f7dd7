package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/urfave/cli/v2"

	"backpitch/engine"
	"backpitch/engine/profile"
	"backpitch/engine/proof"
)

func profileCommand() *cli.Command {
	return &cli.Command{
		Name:  "profile",
		Usage: "the jurisdictions a design can be judged under",
		Subcommands: []*cli.Command{
			{Name: "list", Usage: "list the profiles and how much of each is checked", Flags: []cli.Flag{policiesFlag()}, Action: profileList},
			{Name: "show", Usage: "print what a profile adopts and its figures, each with its basis; with a path, one of them and what it replaced",
				ArgsUsage: "ID [PATH] (basin.min_depth, drain.min_slope.2 in, drain/too_flat, fixtures.CLASS …)", Flags: []cli.Flag{policiesFlag()}, Action: profileShow},
			profileCompareCommand(),
			profileNewCommand(),
			profileTestCommand(),
			profilePackCommand(),
			profileSignCommand(),
			profileVerifyCommand(),
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
		fmt.Fprintf(w, "%s\t%s\t%d\t%s\t%d\t%d\t%s, %s\n", p.ID, unitsWord(p.Units), p.Rules, proof.Share(p.Figures),
			p.Figures.FromMemory, p.Figures.CommonPractice, p.Title, p.Edition)
	}
	return w.Flush()
}

func profileShow(c *cli.Context) error {
	args := c.Args().Slice()
	if len(args) != 1 && len(args) != 2 {
		return usageError("backpitch profile show ID [PATH]; backpitch profile list shows them", "name one profile, and one path in it at most")
	}
	eng, err := openEngine(c)
	if err != nil {
		return err
	}
	p, err := eng.Profile(args[0])
	if err != nil {
		return policyError(err)
	}
	if len(args) == 1 {
		return proof.WriteFigures(c.App.Writer, p)
	}
	return showPath(c.App.Writer, eng, p, args[1])
}

// showPath prints a value with what each amendment made of it, the effective
// one first.
func showPath(out io.Writer, eng *engine.Engine, p *profile.Profile, path string) error {
	stages := []*profile.Profile{p}
	for _, id := range p.Chain[1:] {
		base, err := eng.Profile(id)
		if err != nil {
			return policyError(err)
		}
		stages = append(stages, base)
	}
	var paths []string
	said := make([]map[string]profile.Said, len(stages))
	for i, stage := range stages {
		said[i] = map[string]profile.Said{}
		for _, s := range stage.At(path) {
			if _, known := indexOf(paths, s.Path); !known {
				paths = append(paths, s.Path)
			}
			said[i][s.Path] = s
		}
	}
	if len(paths) == 0 {
		hint := profile.DidYouMean(path, p.Paths())
		if hint == "" {
			hint = "name a table, TABLE.KEY, a rule, fixtures.CLASS, bathroom_group.CLASS, sources.KEY, method or units; backpitch profile show " + p.ID + " prints them"
		}
		return usageError(hint, "profile %s says nothing of %q", p.ID, path)
	}
	for _, name := range paths {
		printChain(out, name, stages, said)
	}
	return nil
}

func indexOf(list []string, s string) (int, bool) {
	for i, x := range list {
		if x == s {
			return i, true
		}
	}
	return 0, false
}

// printChain prints one value from the effective one down to the model's.
func printChain(out io.Writer, name string, stages []*profile.Profile, said []map[string]profile.Said) {
	p := stages[0]
	now, ok := said[0][name]
	if !ok {
		fmt.Fprintf(out, "%s: dropped by %s\n", name, dropper(name, stages, said))
	} else {
		fmt.Fprintf(out, "%s: %s\n", name, now.Value)
		printCite(out, p, now)
	}
	shown := now
	for i, stage := range stages[1:] {
		before, there := said[i+1][name]
		if !there || ok && before.From == shown.From && before.Value == shown.Value {
			continue
		}
		fmt.Fprintf(out, "  in place of %s in %s\n", before.Value, stage.ID)
		printCite(out, stage, before)
		shown, ok = before, true
	}
}

func printCite(out io.Writer, p *profile.Profile, s profile.Said) {
	var parts []string
	for _, part := range []string{s.Section, string(s.Basis), p.SourceTitle(s.Source)} {
		if part != "" {
			parts = append(parts, part)
		}
	}
	fmt.Fprintf(out, "    stated by %s", s.From)
	if len(parts) > 0 {
		fmt.Fprintf(out, ": %s", strings.Join(parts, "; "))
	}
	fmt.Fprintln(out)
	if s.Note != "" {
		fmt.Fprintf(out, "    note: %s\n", s.Note)
	}
}

// dropper is the profile whose amendment took the value out: the one before the
// first that has it.
func dropper(name string, stages []*profile.Profile, said []map[string]profile.Said) string {
	for i := 1; i < len(stages); i++ {
		if _, there := said[i][name]; there {
			return stages[i-1].ID
		}
	}
	return stages[0].ID
}
