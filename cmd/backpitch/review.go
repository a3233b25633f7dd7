package main

import (
	"context"
	"io"
	"os"
	"runtime"
	"strings"

	"github.com/urfave/cli/v2"

	"backpitch/engine"
	"backpitch/engine/finding"
	"backpitch/engine/report"
)

func reviewCommand() *cli.Command {
	return &cli.Command{
		Name:      "review",
		Usage:     "judge designs and print what to correct",
		ArgsUsage: "PATH… (files, folders, globs, or - for standard input)",
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "profile", Aliases: []string{"p"}, Usage: "judge under profile `ID`; the design's own where this is not given"},
			&cli.StringFlag{Name: "format", Aliases: []string{"f"}, Value: "text", Usage: "report `FORMAT`: " + strings.Join(report.Formats(), ", ")},
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "write the report to `FILE`, whole or not at all"},
			&cli.StringFlag{Name: "fail-on", Value: "error", Usage: "exit 1 at this `LEVEL` or above: error, warning, note, open (warnings and notes included), never"},
			&cli.StringFlag{Name: "show", Value: "fail,open,review", Usage: "`OUTCOMES` that text prints: fail, open, review, pass, or all"},
			&cli.IntFlag{Name: "jobs", Aliases: []string{"j"}, Value: runtime.NumCPU(), Usage: "review `N` designs at once; changes no output"},
			policiesFlag(),
		}, deskFlags()...),
		Action: review,
	}
}

func review(c *cli.Context) error {
	if !c.Args().Present() {
		return usageError("backpitch review PATH…, or - for standard input", "no design named")
	}
	format, err := report.For(c.String("format"))
	if err != nil {
		return usageError("", "%s", err)
	}
	threshold, err := parseThreshold(c.String("fail-on"))
	if err != nil {
		return err
	}
	show, err := parseShow(c.String("show"))
	if err != nil {
		return err
	}
	if c.Int("jobs") < 1 {
		return usageError("", "--jobs must be 1 or more, not %d", c.Int("jobs"))
	}
	eng, err := openEngine(c)
	if err != nil {
		return err
	}
	inputs := gatherInputs(c.Args().Slice())
	desk, err := openDesk(c, len(inputs) > 1)
	if err != nil {
		return err
	}
	opts := report.Options{
		Show:    show,
		Marked:  desk != nil,
		Colour:  c.String("output") == "" && wantsColour(c.App.Writer),
		Version: c.App.Version,
		Rule:    ruleDescriber(eng),
	}
	code := exitClean
	err = writeTo(c.String("output"), c.App.Writer, func(w io.Writer) error {
		sink := format.New(w, opts)
		err := reviewAll(c.Context, eng, inputs, c.App.Reader, c.String("profile"), c.Int("jobs"), func(e report.Entry) error {
			if desk != nil {
				e.Review = desk.Mark(e.Review)
			}
			code = max(code, exitCode(e.Review, threshold))
			return sink.Review(e)
		})
		if err != nil {
			return err
		}
		return sink.Close()
	})
	if err != nil {
		return err
	}
	tellRest(c.App.ErrWriter, desk)
	if code != exitClean {
		return &exitError{code: code}
	}
	return nil
}

// reviewAll reviews every input on the given number of goroutines and hands
// the reviews to take in the order of the inputs.
func reviewAll(ctx context.Context, eng *engine.Engine, inputs []input, stdin io.Reader, profile string, jobs int, take func(report.Entry) error) error {
	i := -1
	p := pipeline[input, report.Entry]{
		workers: jobs,
		window:  2 * jobs,
		next: func() (input, bool) {
			if i++; i < len(inputs) {
				return inputs[i], true
			}
			return input{}, false
		},
		work: func(in input) report.Entry {
			return report.Entry{Review: reviewOne(ctx, eng, in, stdin, profile)}
		},
		take: take,
	}
	return p.run(ctx)
}

func reviewOne(ctx context.Context, eng *engine.Engine, in input, stdin io.Reader, profile string) finding.Review {
	if ctx.Err() != nil {
		return finding.Review{File: in.name, Failure: "the run was interrupted before this design was reviewed"}
	}
	data, err := in.read(stdin, eng.MaxBytes())
	if err != nil {
		return finding.Review{File: in.name, Failure: "reading " + in.name + ": " + fileReason(err)}
	}
	return eng.Review(ctx, engine.Submission{Name: in.name, Data: data}, profile)
}

// ruleDescriber describes rules as a profile has them.
func ruleDescriber(eng *engine.Engine) func(profile, rule string) (report.Rule, bool) {
	return func(profile, id string) (report.Rule, bool) {
		list, err := eng.Rules(profile)
		if err != nil {
			return report.Rule{}, false // the review itself carries the failure
		}
		for _, rule := range list {
			if rule.ID == id {
				return report.Rule{
					ID: rule.ID, Title: rule.Title, Description: rule.Description,
					Rationale: rule.Rationale, Remedy: rule.Remedy, Level: finding.Level(rule.Level),
				}, true
			}
		}
		return report.Rule{}, false
	}
}

// wantsColour is true for a terminal, unless NO_COLOR is set (no-color.org).
func wantsColour(w io.Writer) bool {
	if os.Getenv("NO_COLOR") != "" {
		return false
	}
	f, ok := w.(*os.File)
	if !ok {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}
