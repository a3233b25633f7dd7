package main

import (
	"encoding/json"
	"io"

	"github.com/urfave/cli/v2"

	"backpitch/engine"
)

func factsCommand() *cli.Command {
	return &cli.Command{
		Name:      "facts",
		Usage:     "print what rules read of a design, as JSON: the input for OPA's own tools",
		ArgsUsage: "DESIGN (a file, or - for standard input)",
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "profile", Aliases: []string{"p"}, Usage: "compute under profile `ID`; the design's own where this is not given"},
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "write to `FILE`, whole or not at all"},
			policiesFlag(),
		}, designFlags()...),
		Action: printFacts,
	}
}

func printFacts(c *cli.Context) error {
	names := c.Args().Slice()
	if len(names) != 1 {
		return usageError("backpitch facts DESIGN, or - for standard input", "name one design")
	}
	eng, err := openEngine(c)
	if err != nil {
		return err
	}
	in := input{name: names[0]}
	data, err := in.read(c.Context, c.App.Reader, int64(eng.Limits().Bytes))
	if err != nil {
		return readingError(in.name, err)
	}
	derived, review := eng.Facts(engine.Submission{Name: in.name, Data: data}, c.String("profile"))
	switch {
	case review.Failure != "":
		return usageError(review.Hint, "%s", review.Failure)
	case derived == nil:
		printProblems(c.App.ErrWriter, review.Problems)
		return &exitError{code: exitNotChecked}
	}
	return writeTo(c.String("output"), c.App.Writer, func(out io.Writer) error {
		e := json.NewEncoder(out)
		e.SetEscapeHTML(false)
		e.SetIndent("", "  ")
		return e.Encode(derived)
	})
}
