package report

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"
)

// csvSink prints a line for each submission, as RFC 4180 has it: CR LF at the
// end of each line, quotes where a field needs them.
type csvSink struct {
	w *csv.Writer
	o Options
	n int
}

func newCSV(w io.Writer, o Options) RowSink { return &csvSink{w: csvWriter(w), o: o} }

func csvWriter(w io.Writer) *csv.Writer {
	c := csv.NewWriter(w)
	c.UseCRLF = true
	return c
}

func (s *csvSink) head() error {
	head := []string{"file", "project", "reference", "revision", "profile", "worst", "fail", "errors", "warnings", "notes", "approved", "baseline", "open", "review", "pass", "not checked because"}
	if s.o.Times {
		head = append(head, "ms")
	}
	return s.w.Write(head)
}

func (s *csvSink) Row(r Row) error {
	if s.n == 0 {
		if err := s.head(); err != nil {
			return err
		}
	}
	s.n++
	c := r.Counts
	line := []string{cell(r.File), cell(r.Project.Name), cell(r.Project.Reference), cell(r.Project.Revision), cell(r.Profile), r.Worst}
	for _, n := range []int{c.Fail, c.Errors, c.Warnings, c.Notes, c.Approved, c.Baseline, c.Open, c.Review, c.Pass} {
		line = append(line, strconv.Itoa(n))
	}
	line = append(line, cell(r.Unchecked))
	if s.o.Times {
		line = append(line, strconv.FormatInt(r.Took.Milliseconds(), 10))
	}
	if err := s.w.Write(line); err != nil {
		return err
	}
	s.w.Flush()
	return s.w.Error()
}

func (s *csvSink) Close() error {
	if s.n == 0 {
		if err := s.head(); err != nil {
			return err
		}
	}
	s.w.Flush()
	return s.w.Error()
}

// cell guards text that a designer wrote and a spreadsheet would take for a
// formula, with the apostrophe that marks text there.
func cell(text string) string {
	if text != "" && strings.ContainsRune("=+-@\t\r", rune(text[0])) && text != "-" {
		return "'" + text
	}
	return text
}

// csvRulesSink prints a line for each rule that failed or is open, commonest first.
type csvRulesSink struct {
	w *csv.Writer
	t tally
}

func newCSVRules(w io.Writer, _ Options) RowSink { return &csvRulesSink{w: csvWriter(w)} }

func (s *csvRulesSink) Row(r Row) error {
	s.t.add(r)
	return nil
}

func (s *csvRulesSink) Close() error {
	lines := [][]string{{"rule", "title", "submissions", "fail", "excused", "open"}}
	for _, r := range s.t.commonest() {
		lines = append(lines, []string{cell(r.Rule), cell(r.Title), strconv.Itoa(r.Submissions), strconv.Itoa(r.Fail), strconv.Itoa(r.Excused), strconv.Itoa(r.Open)})
	}
	if err := s.w.WriteAll(lines); err != nil {
		return err
	}
	return s.w.Error()
}
