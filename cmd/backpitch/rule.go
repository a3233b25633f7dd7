package main

import (
	"fmt"
	"io"
	"sort"
	"text/tabwriter"

	"github.com/urfave/cli/v2"

	"backpitch/engine"
	"backpitch/engine/finding"
	"backpitch/engine/profile"
	"backpitch/engine/quantity"
)

func ruleCommand() *cli.Command {
	return &cli.Command{
		Name:  "rule",
		Usage: "the rules and what each checks",
		Subcommands: []*cli.Command{
			{Name: "list", Usage: "list the rules and the profiles that adopt them", Flags: []cli.Flag{policiesFlag()}, Action: ruleList},
			ruleShowCommand(),
			ruleNewCommand(),
			ruleBookCommand(),
		},
	}
}

// adoptions is every rule with the profiles that adopt it.
type adoptions struct {
	rules    map[string]profile.Rule
	profiles []*profile.Profile
}

func gatherAdoptions(eng *engine.Engine) (adoptions, error) {
	all := adoptions{rules: map[string]profile.Rule{}}
	list, err := eng.Profiles()
	if err != nil {
		return all, policyError(err)
	}
	for _, s := range list {
		p, err := eng.Profile(s.ID)
		if err != nil {
			return all, policyError(err)
		}
		rules, err := eng.Rules(s.ID)
		if err != nil {
			return all, policyError(err)
		}
		for _, r := range rules {
			all.rules[r.ID] = r
		}
		all.profiles = append(all.profiles, p)
	}
	return all, nil
}

func (a adoptions) ids() []string {
	ids := make([]string, 0, len(a.rules))
	for id := range a.rules {
		ids = append(ids, id)
	}
	sort.Strings(ids)
	return ids
}

func ruleList(c *cli.Context) error {
	eng, err := openEngine(c)
	if err != nil {
		return err
	}
	all, err := gatherAdoptions(eng)
	if err != nil {
		return err
	}
	w := tabwriter.NewWriter(c.App.Writer, 0, 0, 2, ' ', 0)
	fmt.Fprint(w, "rule\tlevel")
	for _, p := range all.profiles {
		fmt.Fprintf(w, "\t%s", p.ID)
	}
	fmt.Fprintln(w, "\ttitle")
	for _, id := range all.ids() {
		fmt.Fprintf(w, "%s\t%s", id, all.rules[id].Level)
		for _, p := range all.profiles {
			if a, ok := p.Adopts[id]; ok {
				fmt.Fprintf(w, "\t%s", a.Basis)
			} else {
				fmt.Fprint(w, "\t-")
			}
		}
		fmt.Fprintf(w, "\t%s\n", all.rules[id].Title)
	}
	w.Flush()
	all.sums(c.App.Writer)
	return nil
}

// sums counts the adoptions of each profile by basis.
func (a adoptions) sums(out io.Writer) {
	fmt.Fprintf(out, "\n%d rules\n", len(a.rules))
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	for _, p := range a.profiles {
		n := map[finding.Basis]int{}
		for _, adoption := range p.Adopts {
			n[adoption.Basis]++
		}
		fmt.Fprintf(w, "  %s\tadopts %d\tchecked %d\tfrom memory %d\tcommon practice %d\n", p.ID, len(p.Adopts),
			n[finding.Checked], n[finding.FromMemory], n[finding.CommonPractice])
	}
	w.Flush()
}

func unitsWord(s quantity.System) string {
	if s == quantity.SI {
		return "SI"
	}
	return "US"
}

// policyError is the exit of a command that a broken profile or rule stops.
func policyError(err error) error {
	text, hint := engine.Explain(err)
	return &exitError{code: exitNotChecked, text: text, hint: hint}
}
