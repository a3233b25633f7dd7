// Package report prints reviews.
//
// What enters: finding.Review values, one after another in the order the
// designs were named. What leaves: bytes in one format, written as the reviews
// come, so that ten thousand of them need no more memory than one. A report
// judges nothing, opens no file and knows no clock: the same reviews always
// give the same bytes.
package report

import (
	"fmt"
	"io"
	"sort"
	"strings"
	"time"
	"unicode"

	"backpitch/engine/finding"
)

// Entry is one review and what only some formats print of it.
type Entry struct {
	finding.Review
	// Line is where a stream of designs, one a line, holds this one; 0 for a file.
	Line int
	// Took is how long the review lasted; 0 where it is not to be printed.
	Took time.Duration
	// Detail is what only the letters to an applicant print; nil elsewhere.
	Detail *Detail
}

// A Sink prints the reviews of one run in the order it is given them. A sink
// belongs to one goroutine. A run that breaks off does not call Close.
type Sink interface {
	Review(e Entry) error
	Close() error // prints what stands at the end
}

// A RowSink prints a roll-up from rows alone.
type RowSink interface {
	Row(r Row) error
	Close() error
}

// rollUp makes a sink of one that needs only rows.
type rollUp struct{ RowSink }

func (s rollUp) Review(e Entry) error { return s.Row(RowOf(e)) }

// Rule is what a report says of a rule apart from its findings.
type Rule struct {
	ID          string
	Title       string
	Description string
	Rationale   string
	Remedy      string
	Level       finding.Level
}

// Options are choices of the reader that change no outcome.
type Options struct {
	Show    map[finding.Outcome]bool // what is printed in text
	Colour  bool
	Version string
	Times   bool // print how long each review took: the bytes then differ from run to run
	// MaxResults is how many findings a format that cuts prints; 0 is all of
	// them, or the format's own limit. What is left out is counted and said.
	MaxResults int
	// Spool makes a file for what can be printed only at the end of a large
	// batch; nil keeps it in memory.
	Spool func() (io.ReadWriteSeeker, error)
	// Rule describes a rule as a profile has it. It is asked once for each rule
	// that occurs; nil describes none.
	Rule func(profile, rule string) (Rule, bool)
	// Letter is what stands at the head of a letter to an applicant.
	Letter LetterHead
	// Marked says that failures were looked up in approvals or a baseline, so
	// that a format can tell "counts" from "nobody has looked".
	Marked bool
}

func (o Options) rule(profile, id string) Rule {
	if o.Rule != nil {
		if r, ok := o.Rule(profile, id); ok {
			return r
		}
	}
	return Rule{ID: id, Title: id}
}

// A Format is one way to print reviews.
type Format struct {
	Name      string
	Extension string // of a file in this format, with its dot
	About     string // one line for help
	New       func(w io.Writer, o Options) Sink
	// Rows prints a roll-up, where the format has one.
	Rows func(w io.Writer, o Options) RowSink
	// Detail says that the format prints Entry.Detail.
	Detail bool
	// Passes says that the format prints what passes, or the design's own text;
	// a format that only counts it is satisfied by a brief review.
	Passes bool
	// Cuts says that the format prints Options.MaxResults findings at most.
	Cuts bool
	// RollUp says that there is nothing but the roll-up: no report of a single
	// submission.
	RollUp bool
}

// formats is every format there is; a new one is a line here.
var formats = []Format{
	{Name: "text", Extension: ".txt", About: "for people at a terminal", Cuts: true, New: newText, Rows: newTextRollUp},
	{Name: "json", Extension: ".json", About: "every outcome, as schema findings describes", New: newJSON, Passes: true},
	{Name: "ndjson", Extension: ".ndjson", About: "a review object a line", New: newNDJSON, Passes: true},
	{Name: "sarif", Extension: ".sarif", About: "SARIF 2.1.0, for code hosts", Cuts: true, New: newSARIF, Passes: true},
	{Name: "junit", Extension: ".xml", About: "JUnit XML, a test case for each rule", New: newJUnit},
	{Name: "codequality", Extension: ".codequality.json", About: "list of code quality issues, for code hosts", Cuts: true, New: newCodeQuality},
	{Name: "annotations", Extension: ".annotations.txt", About: "workflow commands that mark lines in a CI job", Cuts: true, New: newAnnotations},
	{Name: "markdown", Extension: ".md", About: "correction list for the applicant", New: newMarkdown, Detail: true, Passes: true},
	{Name: "html", Extension: ".html", About: "correction list for the applicant with drawings, one page without outside requests", New: newHTML, Detail: true, Passes: true},
	{Name: "csv", Extension: ".csv", About: "a line for each submission", New: onlyRows(newCSV), Rows: newCSV, RollUp: true},
	{Name: "csv-rules", Extension: ".csv", About: "a line for each rule, the commonest correction first", New: onlyRows(newCSVRules), Rows: newCSVRules, RollUp: true},
}

func onlyRows(rows func(io.Writer, Options) RowSink) func(io.Writer, Options) Sink {
	return func(w io.Writer, o Options) Sink { return rollUp{rows(w, o)} }
}

// Cutting lists the formats that print Options.MaxResults findings at most.
func Cutting() []string {
	var names []string
	for _, f := range formats {
		if f.Cuts {
			names = append(names, f.Name)
		}
	}
	return names
}

// LeftOut is how many failures, open and review findings, and problems, a sink
// has left out because of Options.MaxResults. Passes are none of them: a format
// may drop them to make room, and says so.
func LeftOut(s Sink) int {
	if c, cuts := s.(interface{ leftOut() int }); cuts {
		return c.leftOut()
	}
	return 0
}

// Formats lists the formats that For knows, sorted.
func Formats() []string {
	names := make([]string, 0, len(formats))
	for _, f := range formats {
		names = append(names, f.Name)
	}
	sort.Strings(names)
	return names
}

// For returns a format by name.
func For(name string) (Format, error) {
	for _, f := range formats {
		if f.Name == name {
			return f, nil
		}
	}
	return Format{}, fmt.Errorf("no report format %q: choose one of %s", name, strings.Join(Formats(), ", "))
}

// Write prints a whole batch.
func Write(w io.Writer, f Format, entries []Entry, o Options) error {
	sink := f.New(w, o)
	for _, e := range entries {
		if err := sink.Review(e); err != nil {
			return err
		}
	}
	return sink.Close()
}

// Cautions are printed with every report. The work can hurt people, and the
// tool looks at paper only.
var Cautions = []string{
	"This is a pre-check of a drawing, not a permit and not an inspection. The adopted local code and the authority having jurisdiction govern; have a licensed plumber and, for the pump circuit, a licensed electrician confirm the design.",
	"Sewer gas can poison, suffocate and explode: a basin or pit is a confined space. Nobody enters or leans into it without testing, ventilation and a second person outside.",
	"Water and electricity kill: disconnect and lock out the pump before its cover is opened.",
	"Trenches collapse without warning: shore or slope them, and have buried services marked before digging.",
}

// Place renders file:line:col, leaving out what is unknown.
func Place(p finding.Place) string {
	if p.Line == 0 {
		return printable(p.File)
	}
	return fmt.Sprintf("%s:%d:%d", printable(p.File), p.Line, p.Col)
}

// printable keeps the name of a file from moving the cursor of a terminal.
func printable(name string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return '?'
		}
		return r
	}, name)
}

// plural returns "1 file", "2 files", "2 entries".
func plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	if strings.HasSuffix(word, "y") {
		return fmt.Sprintf("%d %sies", n, strings.TrimSuffix(word, "y"))
	}
	return fmt.Sprintf("%d %ss", n, word)
}
