package report

import (
	"bufio"
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strings"

	"backpitch/engine/finding"
)

// junitSink prints JUnit XML as the schema junit-10.xsd of the xUnit plugin
// for Jenkins has it, which CI servers read: a suite for each submission, a
// case for each rule that has a subject in it, so that passes count.
//
// The worst outcome of a rule is that of its case. A failure is a <failure>. A
// rule that is open, left to a person or excused is <skipped> with its reason:
// CI servers count it neither as passed nor as failed, which is what it is. A
// document that cannot be checked is an <error>.
type junitSink struct {
	w *bufio.Writer
	o Options
}

func newJUnit(w io.Writer, o Options) Sink {
	s := junitSink{bufio.NewWriter(w), o}
	s.w.WriteString(xml.Header + `<testsuites name="backpitch">` + "\n")
	return s
}

type junitSuite struct {
	XMLName  xml.Name   `xml:"testsuite"`
	Name     string     `xml:"name,attr"`
	Tests    int        `xml:"tests,attr"`
	Failures int        `xml:"failures,attr"`
	Errors   int        `xml:"errors,attr"`
	Skipped  int        `xml:"skipped,attr"`
	Time     string     `xml:"time,attr,omitempty"`
	File     string     `xml:"file,attr"`
	Props    []junitKV  `xml:"properties>property,omitempty"`
	Cases    []junitOne `xml:"testcase"`
}

type junitKV struct {
	Name  string `xml:"name,attr"`
	Value string `xml:"value,attr"`
}

type junitOne struct {
	Name    string       `xml:"name,attr"`
	Class   string       `xml:"classname,attr"`
	Error   *junitDetail `xml:"error"`
	Failure *junitDetail `xml:"failure"`
	Skipped *junitDetail `xml:"skipped"`
}

type junitDetail struct {
	Type    string `xml:"type,attr"`
	Message string `xml:"message,attr"`
	Text    string `xml:",innerxml"` // made by junitText
}

// junitText escapes text and keeps its lines.
func junitText(text string) string {
	var b strings.Builder
	xml.EscapeText(&b, []byte(text)) //nolint:errcheck // a builder takes everything
	return strings.ReplaceAll(b.String(), "&#xA;", "\n")
}

func (s junitSink) Review(e Entry) error {
	suite := junitSuite{Name: junitName(e), File: e.File, Props: junitProperties(e.Review)}
	if s.o.Times {
		suite.Time = fmt.Sprintf("%.3f", e.Took.Seconds())
	}
	if Unchecked(e.Review) {
		suite.Cases = append(suite.Cases, junitDocument(e.Review))
		suite.Errors++
	}
	for _, group := range byRule(e.Findings) {
		one := junitCase(e.Review, group)
		if one.Failure != nil {
			suite.Failures++
		}
		if one.Skipped != nil {
			suite.Skipped++
		}
		suite.Cases = append(suite.Cases, one)
	}
	suite.Tests = len(suite.Cases)
	var buf bytes.Buffer
	enc := xml.NewEncoder(&buf)
	enc.Indent("  ", "  ")
	if err := enc.Encode(suite); err != nil {
		return err
	}
	buf.WriteByte('\n')
	_, err := buf.WriteTo(s.w)
	return err
}

func (s junitSink) Close() error {
	s.w.WriteString("</testsuites>\n")
	return s.w.Flush()
}

func junitName(e Entry) string {
	if e.Line > 0 {
		return fmt.Sprintf("%s:%d", e.File, e.Line)
	}
	return e.File
}

func junitProperties(r finding.Review) []junitKV {
	var list []junitKV
	for _, kv := range []junitKV{
		{"project", r.Project.Name}, {"reference", r.Project.Reference}, {"revision", r.Project.Revision},
		{"profile", r.Profile.ID}, {"edition", r.Profile.Edition}, {"verify", r.Profile.Verify},
	} {
		if kv.Value != "" {
			list = append(list, kv)
		}
	}
	for _, c := range Cautions {
		list = append(list, junitKV{"caution", c})
	}
	return list
}

// junitDocument is the case of a document that could not be checked.
func junitDocument(r finding.Review) junitOne {
	var lines []string
	for _, p := range r.Problems {
		lines = append(lines, Place(p.Place)+": "+p.Message+hintText(p.Hint))
	}
	if r.Failure != "" {
		lines = append(lines, r.Failure+hintText(r.Hint))
	}
	return junitOne{Name: "document", Class: r.File, Error: &junitDetail{Type: "could_not_check", Message: lines[0], Text: junitText("\n" + strings.Join(lines, "\n") + "\n")}}
}

// byRule groups findings by rule, in the order in which the rules occur.
func byRule(list []finding.Finding) [][]finding.Finding {
	index := map[string]int{}
	var groups [][]finding.Finding
	for _, f := range list {
		i, ok := index[f.Rule]
		if !ok {
			i = len(groups)
			index[f.Rule] = i
			groups = append(groups, nil)
		}
		groups[i] = append(groups[i], f)
	}
	return groups
}

// junitCase is one rule over all its subjects in a submission.
func junitCase(r finding.Review, group []finding.Finding) junitOne {
	one := junitOne{Name: group[0].Rule, Class: r.File}
	var failed, rest []finding.Finding
	for _, f := range group {
		switch {
		case f.Outcome == finding.Fail && !f.Excused():
			failed = append(failed, f)
		case f.Outcome != finding.Pass:
			rest = append(rest, f)
		}
	}
	switch {
	case len(failed) > 0:
		one.Failure = junitDetails(string(failed[0].Level), failed, append(failed, rest...), len(group))
	case len(rest) > 0:
		one.Skipped = junitDetails(junitType(rest[0]), rest, rest, len(group))
	}
	return one
}

func junitType(f finding.Finding) string {
	if f.Outcome == finding.Fail {
		return "excused"
	}
	return string(f.Outcome)
}

func junitDetails(kind string, counted, told []finding.Finding, of int) *junitDetail {
	message := counted[0].Message
	if of > 1 {
		message = fmt.Sprintf("%d of %d subjects: %s", len(counted), of, message)
	}
	var b strings.Builder
	for _, f := range told {
		fmt.Fprintf(&b, "\n%s: %s: %s\n", Place(f.Place), outcomeWord(f), f.Message)
		for _, line := range actionLines(f) {
			b.WriteString("    " + line + "\n")
		}
	}
	return &junitDetail{Type: kind, Message: message, Text: junitText(b.String())}
}

// outcomeWord is the level of a failure, and the outcome of anything else.
func outcomeWord(f finding.Finding) string {
	if f.Outcome == finding.Fail {
		return string(f.Level)
	}
	return string(f.Outcome)
}

// actionLines say what a finding rests on and what to do about it.
func actionLines(f finding.Finding) []string {
	var lines []string
	if len(f.Missing) > 0 {
		lines = append(lines, "missing: "+strings.Join(f.Missing, "; "))
	}
	if figures(f) {
		lines = append(lines, "found "+f.Measured.Text+", limit "+f.Limit.Text)
	}
	lines = append(lines, "required by "+f.Section+" ("+basisWords(f.Basis)+")")
	if f.Remedy != "" && f.Outcome != finding.Pass {
		lines = append(lines, "to mend: "+f.Remedy)
	}
	if why := Excuse(f); why != "" {
		lines = append(lines, why)
	}
	return append(lines, f.Verify)
}
