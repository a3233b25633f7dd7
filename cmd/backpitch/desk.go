package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/urfave/cli/v2"

	"backpitch/engine/approve"
	"backpitch/engine/design"
	"backpitch/engine/finding"
	"backpitch/engine/report"
)

// deskFlags name the reviewer's own files.
func deskFlags() []cli.Flag {
	return []cli.Flag{
		&cli.StringFlag{Name: "approvals", Usage: "the reviewer's `FILE` of approvals: such failures stay visible and do not count towards --fail-on"},
		&cli.StringFlag{Name: "as-of", Usage: "the `DAY` (2026-02-03) on which approvals must hold; needed when one of them expires"},
		&cli.StringFlag{Name: "baseline", Usage: "`FILE` of existing work that stays as it was: a baseline or a saved review; its failures do not count"},
	}
}

// openDesk reads the reviewer's own files; nil where none is named.
func openDesk(c *cli.Context, limits design.Limits, several bool) (*approve.Desk, error) {
	desk := &approve.Desk{AsOf: c.String("as-of"), Several: several}
	approvals, baseline := c.String("approvals"), c.String("baseline")
	if desk.AsOf != "" {
		if err := approve.CheckDate(desk.AsOf); err != nil {
			return nil, usageError("write it as 2026-02-03", "--as-of: %s", err)
		}
		if approvals == "" {
			return nil, usageError("give --approvals FILE too", "--as-of is the day on which approvals must hold, and none are given")
		}
	}
	if approvals == "" && baseline == "" {
		return nil, nil
	}
	if approvals != "" {
		data, err := readOwn(c, approvals, limits)
		if err != nil {
			return nil, err
		}
		var problems []finding.Problem
		if desk.Approvals, problems = approve.ReadApprovals(approvals, data, limits); len(problems) > 0 {
			return nil, problemsError(problems)
		}
		if desk.Approvals.Dated() && desk.AsOf == "" {
			return nil, usageError("give --as-of DAY; no clock is read, so that the same files give the same report", "%s has approvals that expire", approvals)
		}
	}
	if baseline != "" {
		data, err := readOwn(c, baseline, approve.Limits(limits))
		if err != nil {
			return nil, err
		}
		var problems []finding.Problem
		if desk.Baseline, problems = approve.ReadBaseline(baseline, data, limits); len(problems) > 0 {
			return nil, problemsError(problems)
		}
	}
	if problems := desk.Check(); len(problems) > 0 {
		return nil, problemsError(problems)
	}
	return desk, nil
}

// readOwn reads a file of the reviewer.
func readOwn(c *cli.Context, path string, limits design.Limits) ([]byte, error) {
	if path == stdinName {
		return nil, usageError("standard input is for designs", "the reviewer's own file cannot be -")
	}
	data, err := input{name: path}.read(c.Context, nil, int64(limits.Bytes))
	if err != nil {
		return nil, readingError(path, err)
	}
	return data, nil
}

// problemsError is the exit of a command that a bad file stops: every problem
// with its place.
func problemsError(problems []finding.Problem) error {
	return &exitError{code: exitNotChecked, text: strings.TrimPrefix(problemsText(problems), "backpitch: ")}
}

func problemsText(problems []finding.Problem) string {
	var b strings.Builder
	for i, p := range problems {
		if i > 0 {
			b.WriteByte('\n')
		}
		fmt.Fprintf(&b, "backpitch: %s: %s", report.Place(p.Place), p.Message)
		if p.Hint != "" {
			fmt.Fprintf(&b, "\n    hint: %s", p.Hint)
		}
	}
	return b.String()
}

// tellRest prints what of the reviewer's own files no design of the run could
// tell.
func tellRest(stderr io.Writer, desk *approve.Desk) {
	if desk == nil {
		return
	}
	if rest := desk.Rest(); len(rest) > 0 {
		fmt.Fprintln(stderr, problemsText(rest))
	}
}
