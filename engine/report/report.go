// Package report prints reviews.
//
// What enters: finding.Review values, plain data. What leaves: bytes in one
// format. A report computes nothing, opens no file and knows no clock, so the
// same reviews always give the same bytes.
package report

import (
	"fmt"
	"io"
	"sort"
	"strings"

	"backpitch/engine/finding"
)

// Batch is what one run yielded, in the order the files were named.
type Batch struct {
	Reviews []finding.Review
	// Rules describes every rule that occurs in the findings, by id.
	Rules map[string]Rule
}

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
}

// A Writer prints one batch.
type Writer func(w io.Writer, b Batch, o Options) error

var writers = map[string]Writer{
	"text":  Text,
	"json":  JSON,
	"sarif": SARIF,
}

// Formats lists the formats that For knows, sorted.
func Formats() []string {
	names := make([]string, 0, len(writers))
	for name := range writers {
		names = append(names, name)
	}
	sort.Strings(names)
	return names
}

// For returns the writer of a format.
func For(format string) (Writer, error) {
	if w, ok := writers[format]; ok {
		return w, nil
	}
	return nil, fmt.Errorf("no report format %q: choose one of %s", format, strings.Join(Formats(), ", "))
}

// Cautions are printed with every report. The work can hurt people, and the
// tool looks at paper only.
var Cautions = []string{
	"This is a pre-check of a drawing, not a permit and not an inspection. The adopted local code and the authority having jurisdiction govern; have a licensed plumber and, for the pump circuit, a licensed electrician confirm the design.",
	"Sewer gas can poison, suffocate and explode: a basin or pit is a confined space. Nobody enters or leans into it without testing, ventilation and a second person outside.",
	"Water and electricity kill: disconnect and lock out the pump before its cover is opened.",
	"Trenches collapse without warning: shore or slope them, and have buried services marked before digging.",
}

// Totals adds up the counts of all reviews.
func Totals(reviews []finding.Review) finding.Counts {
	var t finding.Counts
	for _, r := range reviews {
		t.Pass += r.Counts.Pass
		t.Fail += r.Counts.Fail
		t.Open += r.Counts.Open
		t.Review += r.Counts.Review
		t.Errors += r.Counts.Errors
		t.Warnings += r.Counts.Warnings
		t.Notes += r.Counts.Notes
	}
	return t
}

// Place renders file:line:col, leaving out what is unknown.
func Place(p finding.Place) string {
	if p.Line == 0 {
		return p.File
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Col)
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
