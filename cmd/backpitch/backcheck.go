package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/urfave/cli/v2"

	"backpitch/engine"
	"backpitch/engine/approve"
	"backpitch/engine/backcheck"
	"backpitch/engine/finding"
	"backpitch/engine/report"
)

func backcheckCommand() *cli.Command {
	return &cli.Command{
		Name:      "backcheck",
		Usage:     "compare a resubmittal with the submission before it",
		ArgsUsage: "EARLIER LATER (each a design, or a review saved with --format json)",
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "profile", Aliases: []string{"p"}, Usage: "judge designs under profile `ID`; a saved review keeps its own and must agree"},
			&cli.StringFlag{Name: "format", Aliases: []string{"f"}, Value: "text", Usage: "`FORMAT`: " + strings.Join(report.BackcheckFormats(), ", ")},
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "write the report to `FILE`, whole or not at all"},
			&cli.StringFlag{Name: "fail-on", Value: "error", Usage: "exit 1 when anything outstanding or new is at this `LEVEL` or above: error, warning, note, open, never"},
			&cli.StringFlag{Name: "show", Value: "fail,open,review", Usage: "`OUTCOMES` of now that text and markdown print: fail, open, review, or all; what is corrected is always printed"},
			&cli.StringFlag{Name: "write-baseline", Usage: "write the outstanding failures on parts that did not change to `FILE`, as a baseline of existing work"},
			policiesFlag(),
		}, append(deskFlags(), judgeFlags()...)...),
		Action: runBackcheck,
	}
}

func runBackcheck(c *cli.Context) error {
	if c.NArg() != 2 {
		return usageError("backpitch backcheck EARLIER LATER", "name two submissions, the earlier first, not %d", c.NArg())
	}
	write, err := report.Backcheck(c.String("format"))
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
	eng, err := openEngine(c)
	if err != nil {
		return err
	}
	desk, err := openDesk(c, eng.Limits(), false)
	if err != nil {
		return err
	}
	sides, err := submissions(c, eng)
	if err != nil {
		return err
	}
	if desk != nil {
		sides[1] = desk.Mark(sides[1])
	}
	result := backcheck.Compare(sides[0], sides[1])
	opts := report.Options{Show: show, Colour: c.String("output") == "" && wantsColour(c.App.Writer), Version: c.App.Version}
	if err := writeTo(c.String("output"), c.App.Writer, func(w io.Writer) error { return write(w, result, opts) }); err != nil {
		return err
	}
	if path := c.String("write-baseline"); path != "" {
		if err := writeTo(path, c.App.Writer, func(w io.Writer) error {
			return approve.WriteBaseline(w, sides[1], existing(sides[1], result))
		}); err != nil {
			return err
		}
	}
	tellRest(c.App.ErrWriter, desk)
	// Whatever fails now is outstanding or new.
	if code := exitCode(sides[1], threshold); code != exitClean {
		return &exitError{code: code}
	}
	return nil
}

// submissions reviews both, the earlier first.
func submissions(c *cli.Context, eng *engine.Engine) (sides [2]finding.Review, err error) {
	if c.Args().Get(0) == stdinName && c.Args().Get(1) == stdinName {
		return sides, usageError("save one of them to a file", "only one submission can come from standard input")
	}
	for i := range sides {
		if sides[i], err = submission(c, eng, c.Args().Get(i)); err != nil {
			return sides, err
		}
	}
	return sides, nil
}

// existing is the failures of a review that were there before, on parts that
// did not change.
func existing(r finding.Review, b finding.Backcheck) []finding.Finding {
	was := map[string]bool{}
	for _, i := range b.Items {
		if i.Status == finding.Outstanding && i.Part == finding.Unchanged && !i.Changed {
			was[i.Fingerprint] = true
		}
	}
	var list []finding.Finding
	for _, f := range r.Findings {
		if was[f.Fingerprint] {
			list = append(list, f)
		}
	}
	return list
}

// submission reviews a design, or takes a saved review as it is.
func submission(c *cli.Context, eng *engine.Engine, path string) (finding.Review, error) {
	data, err := input{name: path}.read(c.Context, c.App.Reader, int64(approve.Limits(eng.Limits()).Bytes))
	if err != nil {
		return finding.Review{}, readingError(path, err)
	}
	var r finding.Review
	if approve.IsSaved(data, eng.Limits()) {
		r, err = savedReview(c, eng, path, data)
		if err != nil {
			return r, err
		}
	} else {
		r = eng.Review(c.Context, engine.Submission{Name: path, Data: data}, c.String("profile"))
	}
	switch {
	case len(r.Problems) > 0 && r.File != path:
		return r, usageError("name the design itself once it is mended", "%s: the saved review of %s has problems and no findings to compare", path, r.File)
	case len(r.Problems) > 0:
		return r, problemsError(r.Problems)
	case r.Failure != "":
		return r, &exitError{code: exitNotChecked, text: fmt.Sprintf("%s: could not check: %s", path, r.Failure), hint: r.Hint}
	}
	return r, nil
}

func savedReview(c *cli.Context, eng *engine.Engine, path string, data []byte) (finding.Review, error) {
	reviews, problems := approve.ReadReviews(path, data, eng.Limits())
	if len(problems) > 0 {
		return finding.Review{}, problemsError(problems)
	}
	if len(reviews) != 1 {
		return finding.Review{}, usageError("save the review of one design", "%s holds %d reviews; backcheck compares one with one", path, len(reviews))
	}
	if want := c.String("profile"); want != "" && reviews[0].Profile.ID != want {
		return finding.Review{}, usageError("name the design itself, which can be judged again", "%s was judged under %q, not under %q", path, reviews[0].Profile.ID, want)
	}
	return reviews[0], nil
}
