package main

import (
	"slices"

	"github.com/urfave/cli/v2"

	"backpitch/engine"
	"backpitch/engine/approve"
	"backpitch/engine/drafting"
	"backpitch/engine/report"
)

// letterFlags are what the sender of a correction list writes at its head.
func letterFlags() []cli.Flag {
	return []cli.Flag{
		&cli.StringFlag{Name: "date", Usage: "`DAY` (2026-02-03) at the head of markdown and html; none is printed without it, for no clock is read"},
		&cli.StringFlag{Name: "applicant", Usage: "`NAME` of the applicant at the head of markdown and html"},
		&cli.StringFlag{Name: "reviewer", Usage: "`NAME` of the reviewer at the head of markdown and html"},
	}
}

// readLetterHead checks the flags of a letter against the formats asked for.
func readLetterHead(c *cli.Context, formats []report.Format) (report.LetterHead, error) {
	head := report.LetterHead{Date: c.String("date"), Applicant: c.String("applicant"), Reviewer: c.String("reviewer")}
	if head.Date != "" {
		if err := approve.CheckDate(head.Date); err != nil {
			return head, usageError("write it as 2026-02-03", "--date: %s", err)
		}
	}
	if head != (report.LetterHead{}) && !wantsDetail(formats) {
		return head, usageError("add --format html or markdown", "--date, --applicant and --reviewer stand at the head of a letter, and none is asked for")
	}
	return head, nil
}

// wantsDetail says that a format prints more of a design than its findings.
func wantsDetail(formats []report.Format) bool {
	return slices.ContainsFunc(formats, func(f report.Format) bool { return f.Detail })
}

// detailOf is what a letter prints of a design beside its findings; nil where
// nothing could be computed.
func detailOf(w engine.Working) *report.Detail {
	if w.Facts == nil || w.Record == nil {
		return nil
	}
	s := drafting.Source{Design: w.Design, Facts: w.Facts, Record: w.Record, Findings: w.Review.Findings, Units: w.Units}
	riser := drafting.Riser(s)
	return &report.Detail{
		Sheet: w.Sheet(), Riser: &riser, Lines: drafting.Lines(s), Basins: drafting.Basins(s), Pumps: drafting.Pumps(s),
	}
}
