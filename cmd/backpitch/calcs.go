package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/urfave/cli/v2"

	"backpitch/engine"
	"backpitch/engine/finding"
	"backpitch/engine/report"
)

func calcsCommand() *cli.Command {
	return &cli.Command{
		Name:      "calcs",
		Usage:     "print the calculation sheet of a design",
		ArgsUsage: "DESIGN (a file, or - for standard input)",
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "profile", Aliases: []string{"p"}, Usage: "compute and judge under profile `ID`; the design's own where this is not given"},
			&cli.StringFlag{Name: "format", Aliases: []string{"f"}, Value: "text", Usage: "sheet `FORMAT`: " + strings.Join(report.SheetFormats(), ", ")},
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "write the sheet to `FILE`, whole or not at all"},
			policiesFlag(),
		}, judgeFlags()...),
		Action: printCalcs,
	}
}

func printCalcs(c *cli.Context) error {
	writer, err := report.ForSheet(c.String("format"))
	if err != nil {
		return usageError("", "%s", err)
	}
	w, err := workOne(c)
	if err != nil {
		return err
	}
	sheet := w.Sheet()
	return writeTo(c.String("output"), c.App.Writer, func(out io.Writer) error {
		return writer(out, sheet, report.Options{Version: c.App.Version})
	})
}

// workOne reads the one design that a command names and computes it. Problems
// of the document go to standard error, and end the command.
func workOne(c *cli.Context) (engine.Working, error) {
	if c.NArg() != 1 {
		return engine.Working{}, usageError("backpitch "+c.Command.Name+" DESIGN, or - for standard input", "name one design")
	}
	eng, err := openEngine(c)
	if err != nil {
		return engine.Working{}, err
	}
	return workFile(c, eng, c.Args().First())
}

func workFile(c *cli.Context, eng *engine.Engine, name string) (engine.Working, error) {
	in := input{name: name}
	data, err := in.read(c.Context, c.App.Reader, int64(eng.Limits().Bytes))
	if err != nil {
		return engine.Working{}, readingError(in.name, err)
	}
	w := eng.Work(c.Context, engine.Submission{Name: in.name, Data: data}, c.String("profile"))
	if r := w.Review; r.Failure != "" {
		return w, usageError(r.Hint, "%s", r.Failure)
	}
	if len(w.Review.Problems) > 0 {
		printProblems(c.App.ErrWriter, w.Review.Problems)
		return w, &exitError{code: exitNotChecked}
	}
	return w, nil
}

func printProblems(w io.Writer, problems []finding.Problem) {
	for _, p := range problems {
		fmt.Fprintf(w, "%s: %s\n", report.Place(p.Place), p.Message)
		if p.Hint != "" {
			fmt.Fprintf(w, "    hint: %s\n", p.Hint)
		}
	}
}
