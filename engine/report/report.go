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

	"backpitch/engine/finding"
)

// Entry is one review and what only some formats print of it.
type Entry struct {
	finding.Review
	// Line is where a stream of designs, one a line, holds this one; 0 for a file.
	Line int
	// Took is how long the review lasted; 0 where it is not to be printed.
	Took time.Duration
}

// A Sink prints the reviews of one run in the order it is given them. A sink
// belongs to one goroutine. A run that breaks off does not call Close.
type Sink interface {
	Review(e Entry) error
	Close() error // prints what stands at the end
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
	// Rule describes a rule as a profile has it. It is asked once for each rule
	// that occurs; nil describes none.
	Rule func(profile, rule string) (Rule, bool)
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
}

// formats is every format there is; a new one is a line here.
var formats = []Format{
	{"text", ".txt", "for people at a terminal", newText},
	{"json", ".json", "every outcome, as schema findings describes", newJSON},
	{"sarif", ".sarif", "SARIF 2.1.0 for code hosts", newSARIF},
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

// add adds the counts of one review to a sum.
func add(sum *finding.Counts, c finding.Counts) { *sum = sum.Add(c) }

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
