package main

import (
	"io"
	"os"
	"runtime"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"backpitch/engine"
	"backpitch/engine/finding"
	"backpitch/engine/limit"
	"backpitch/engine/report"
)

func reviewCommand() *cli.Command {
	return &cli.Command{
		Name:      "review",
		Usage:     "judge designs and print what to correct",
		ArgsUsage: "PATH… (files, folders, globs with * and **, or - for standard input)",
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "profile", Aliases: []string{"p"}, Usage: "judge under profile `ID`; the design's own where this is not given. With A,B,C each design is judged under all of them, the disagreements first"},
			&cli.StringFlag{Name: "format", Aliases: []string{"f"}, Value: "text", Usage: "report `FORMAT`: " + strings.Join(report.Formats(), ", ") + "; with --out-dir several, with commas"},
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "write the report to `FILE`, whole or not at all"},
			&cli.StringFlag{Name: "out-dir", Usage: "write a report of each submission into `DIR`, whole or not at all, and print the roll-up"},
			&cli.BoolFlag{Name: "skip-unchanged", Usage: "with --out-dir: leave a report that stands and whose design, rules, options and program are the same"},
			&cli.BoolFlag{Name: "stream", Usage: "read designs, one a line, from standard input or a file, and print a review a line, in order"},
			&cli.StringFlag{Name: "fail-on", Value: "error", Usage: "exit 1 at this `LEVEL` or above: error, warning, note, open (warnings and notes included), never"},
			&cli.StringFlag{Name: "show", Value: "fail,open,review", Usage: "`OUTCOMES` that text, codequality and annotations print: fail, open, review, pass, or all"},
			limitFlag(limit.Results),
			limitFlag(limit.Designs),
			&cli.BoolFlag{Name: "times", Usage: "print how long each review took, in text, csv and junit; the output then differs from run to run"},
			&cli.IntFlag{Name: "jobs", Aliases: []string{"j"}, Value: runtime.NumCPU(), Usage: "review `N` designs at once; changes no output"},
			policiesFlag(),
		}, slices.Concat(judgeFlags(), guardFlags(), deskFlags(), letterFlags(), explainFlags())...),
		Action: review,
	}
}

// settings are the flags of review, checked, and the streams of the process.
type settings struct {
	formats   []report.Format // one, or with --out-dir those of each submission
	rollUp    report.Format   // with --out-dir: what is printed of the whole
	threshold threshold
	opts      report.Options
	output    string
	jobs      int
	left      int // findings that --max-results left out

	stdout, stderr io.Writer
}

func readSettings(c *cli.Context) (*settings, error) {
	s := &settings{output: c.String("output"), jobs: c.Int("jobs"), stdout: c.App.Writer, stderr: c.App.ErrWriter}
	if err := s.readFormats(c); err != nil {
		return nil, err
	}
	var err error
	if s.threshold, err = parseThreshold(c.String("fail-on")); err != nil {
		return nil, err
	}
	show, err := parseShow(c.String("show"))
	if err != nil {
		return nil, err
	}
	if s.jobs < 1 {
		return nil, usageError("", "--jobs must be 1 or more, not %d", s.jobs)
	}
	most, err := s.readMaxResults(c)
	if err != nil {
		return nil, err
	}
	if c.Bool("skip-unchanged") && c.String("out-dir") == "" {
		return nil, usageError("give --out-dir DIR too", "--skip-unchanged is for reports in a folder")
	}
	head, err := readLetterHead(c, s.formats)
	if err != nil {
		return nil, err
	}
	s.opts = report.Options{
		Letter:     head,
		Show:       show,
		Colour:     s.output == "" && wantsColour(s.stdout),
		Version:    c.App.Version,
		Times:      c.Bool("times"),
		MaxResults: most,
		Spool:      newSpool,
	}
	return s, nil
}

// readMaxResults refuses a limit that no format of the run keeps.
func (s *settings) readMaxResults(c *cli.Context) (int, error) {
	if !c.IsSet(limit.Results.Name) {
		return 0, nil
	}
	most, err := flagValue(c, limit.Results)
	if err != nil {
		return 0, err
	}
	if strings.Contains(c.String("profile"), ",") || !slices.ContainsFunc(s.formats, func(f report.Format) bool { return f.Cuts }) {
		return 0, usageError("a report in another format, or of several profiles, is whole", "--%s is for %s", limit.Results.Name, strings.Join(report.Cutting(), ", "))
	}
	return most, nil
}

// readFormats sorts the formats into those of each submission and the one of
// the roll-up.
func (s *settings) readFormats(c *cli.Context) error {
	words := strings.Split(c.String("format"), ",")
	if c.Bool("stream") && !c.IsSet("format") {
		words = []string{"ndjson"}
	}
	var rollUps []report.Format
	for _, word := range words {
		f, err := report.For(strings.TrimSpace(word))
		switch {
		case err != nil:
			return usageError("", "%s", err)
		case f.RollUp && c.String("out-dir") != "":
			rollUps = append(rollUps, f)
		case slices.ContainsFunc(s.formats, func(g report.Format) bool { return g.Name == f.Name }):
			return usageError("", "--format names %s twice", f.Name)
		default:
			s.formats = append(s.formats, f)
		}
	}
	switch {
	case c.Bool("stream") && c.String("out-dir") != "":
		return usageError("a stream is printed as a stream", "--stream and --out-dir do not go together")
	case c.Bool("stream") && (len(s.formats) != 1 || s.formats[0].Name != "ndjson"):
		return usageError("leave --format out", "--stream prints ndjson, not %s", c.String("format"))
	case c.String("out-dir") == "" && len(s.formats) != 1:
		return usageError("give --out-dir DIR for several", "--format names %d formats", len(words))
	case c.String("out-dir") == "":
		return nil
	case len(s.formats) == 0:
		return usageError("add one, such as --format json,csv", "--out-dir needs a format for each submission; %s is one of the whole batch", c.String("format"))
	case len(rollUps) > 1:
		return usageError("", "--format names two roll-ups, and one is printed")
	case len(rollUps) == 1:
		s.rollUp = rollUps[0]
	default:
		s.rollUp, _ = report.For("text")
	}
	return nil
}

func review(c *cli.Context) error {
	if explains(c) {
		return explain(c)
	}
	s, err := readSettings(c)
	if err != nil {
		return err
	}
	paths := c.Args().Slice()
	stream := c.Bool("stream")
	switch {
	case stream && len(paths) == 0:
		paths = []string{stdinName}
	case stream && len(paths) > 1:
		return usageError("backpitch review --stream < FILE", "--stream reads one stream, and %d paths are named", len(paths))
	case len(paths) == 0:
		return usageError("backpitch review PATH…, or - for standard input", "no design named")
	}
	several, err := severalProfiles(c)
	if err != nil {
		return err
	}
	eng, err := openEngine(c)
	if err != nil {
		return err
	}
	s.opts.Rule = ruleDescriber(eng)
	rulesTime, err := maxTime(c)
	if err != nil {
		return err
	}
	r := &reviewer{eng: eng, profile: c.String("profile"), stdin: c.App.Reader, times: c.Bool("times"), limit: reviewTime(rulesTime), detail: wantsDetail(s.formats),
		brief: several == nil && !s.opts.Show[finding.Pass] && !slices.ContainsFunc(s.formats, func(f report.Format) bool { return f.Passes })}
	var inputs []input
	if !stream {
		if inputs, err = gatherDesigns(c, paths); err != nil {
			return err
		}
	}
	if r.desk, err = openDesk(c, eng.Limits(), stream || len(inputs) > 1); err != nil {
		return err
	}
	s.opts.Marked = r.desk != nil
	var code int
	switch {
	case several != nil:
		code, err = s.compare(c.Context, r, several, inputs)
	case stream:
		code, err = s.stream(c.Context, r, paths[0])
	case c.String("out-dir") != "":
		code, err = s.intoFolder(c, r, paths, inputs)
	default:
		code, err = s.wholeReport(c.Context, r, inputs)
	}
	if err != nil {
		return err
	}
	tellRest(c.App.ErrWriter, r.desk)
	if s.left > 0 {
		return leftOut(s.left, s.opts.MaxResults)
	}
	if code != exitClean {
		return &exitError{code: code}
	}
	return nil
}

// newSpool makes a file that is gone when the process ends.
func newSpool() (io.ReadWriteSeeker, error) {
	f, err := os.CreateTemp("", "backpitch-*")
	if err != nil {
		return nil, spoolError(err)
	}
	os.Remove(f.Name()) //nolint:errcheck // where an open file cannot be removed it stays in the temporary folder
	return spoolFile{f}, nil
}

// spoolFile tells its own faults from those of the report.
type spoolFile struct{ *os.File }

func (s spoolFile) Write(p []byte) (int, error) {
	n, err := s.File.Write(p)
	if err != nil {
		err = spoolError(err)
	}
	return n, err
}

func spoolError(err error) error {
	return usageError("set TMPDIR to a folder with more room", "writing a temporary file in %s: %s", os.TempDir(), fileReason(err))
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
