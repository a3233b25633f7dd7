package main

import (
	"io"
	"slices"

	"github.com/urfave/cli/v2"

	"backpitch/engine"
	"backpitch/engine/profile"
	"backpitch/engine/rulebook"
)

func ruleShowCommand() *cli.Command {
	return &cli.Command{
		Name:      "show",
		Usage:     "print what a rule checks, why, an example that fails and one that passes, and its limits by profile",
		ArgsUsage: "ID",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "format", Aliases: []string{"f"}, Value: "text", Usage: "`FORMAT`: text, markdown"},
			policiesFlag(),
		},
		Action: ruleShow,
	}
}

func ruleShow(c *cli.Context) error {
	args := c.Args().Slice()
	if len(args) != 1 {
		return usageError("backpitch rule show topic/name; backpitch rule list shows them", "name one rule")
	}
	write := map[string]func(io.Writer, *rulebook.Entry) error{
		"text": rulebook.WriteText, "markdown": rulebook.WriteRuleMarkdown}[c.String("format")]
	if write == nil {
		return usageError("the formats are text and markdown", "no format %q", c.String("format"))
	}
	book, err := gatherBook(c)
	if err != nil {
		return err
	}
	entry := book.Find(args[0])
	if entry == nil {
		hint := profile.DidYouMean(args[0], book.IDs())
		if hint == "" {
			hint = "backpitch rule list shows them; a rule that no profile adopts is not listed"
		}
		return usageError(hint, "no rule %q", args[0])
	}
	return writeTo("", c.App.Writer, func(w io.Writer) error { return write(w, entry) })
}

// gatherBook makes the rule book of the policies in use.
func gatherBook(c *cli.Context) (*rulebook.Book, error) {
	fsys, own, err := openPolicies(c)
	if err != nil {
		return nil, err
	}
	eng := engine.New(engine.Options{Policies: fsys})
	all, err := gatherAdoptions(eng)
	if err != nil {
		return nil, err
	}
	examples, err := rulebook.Examples()
	if err != nil {
		return nil, err
	}
	if own != nil {
		// The examples are of the rules that are shipped, not of one laid over them.
		examples = slices.DeleteFunc(examples, func(e rulebook.Example) bool { return own(all.rules[e.Rule].File) })
	}
	return rulebook.Gather(all.profiles, all.rules, examples), nil
}
