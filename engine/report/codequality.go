package report

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"path"
	"path/filepath"
	"strings"

	"backpitch/engine/finding"
)

// codeQualitySink prints the list of issues that code hosts read as a code
// quality report: an open format with description, check_name, fingerprint,
// severity and location (path and first line) of each issue. What passes is no
// issue. A fingerprint is unique in the report and has no line number.
type codeQualitySink struct {
	e    *encoder
	o    Options
	n    int
	left int // issues left out by MaxResults
	last issue
}

func newCodeQuality(w io.Writer, o Options) Sink {
	s := &codeQualitySink{e: newEncoder(w), o: o}
	s.e.raw("[")
	return s
}

type issue struct {
	Type        string        `json:"type"`
	CheckName   string        `json:"check_name"`
	Description string        `json:"description"`
	Categories  []string      `json:"categories"`
	Severity    string        `json:"severity"`
	Fingerprint string        `json:"fingerprint"`
	Location    issueLocation `json:"location"`
}

type issueLocation struct {
	Path  string `json:"path"`
	Lines struct {
		Begin int `json:"begin"`
	} `json:"lines"`
}

func (s *codeQualitySink) Review(e Entry) error {
	for i, p := range e.Problems {
		s.issue(p.Place, "document/"+p.Code, "blocker", fmt.Sprintf("problem %d", i), sentence(p.Message+hintText(p.Hint)))
	}
	if e.Failure != "" {
		s.issue(finding.Place{File: e.File}, "document/could_not_check", "blocker", "failure", sentence(e.Failure+hintText(e.Hint)))
	}
	for _, f := range e.Findings {
		if f.Outcome != finding.Pass && s.o.Show[f.Outcome] {
			s.issue(f.Place, f.Rule, severity(f), f.Fingerprint, outcomeNote(f)+sarifMessage(f))
		}
	}
	return s.e.err
}

// severity is one of info, minor, major, critical and blocker.
func severity(f finding.Finding) string {
	switch {
	case f.Outcome != finding.Fail, f.Excused():
		return "info"
	case f.Level == finding.Error:
		return "critical"
	case f.Level == finding.Warning:
		return "major"
	}
	return "minor"
}

// outcomeNote says of what is neither pass nor plain failure what it is.
func outcomeNote(f finding.Finding) string {
	switch {
	case f.Outcome == finding.Open:
		return "Not shown: "
	case f.Outcome == finding.PersonDecides:
		return "For a person to look at: "
	case f.Excused():
		return sentence(Excuse(f)) + " "
	}
	return ""
}

func (s *codeQualitySink) issue(place finding.Place, check, severity, key, description string) {
	file := path.Clean(filepath.ToSlash(place.File))
	sum := sha256.Sum256([]byte("backpitch/1\n" + file + "\n" + check + "\n" + key))
	i := issue{Type: "issue", CheckName: check, Description: description, Categories: []string{"Bug Risk"}, Severity: severity,
		Fingerprint: hex.EncodeToString(sum[:16]), Location: issueLocation{Path: file}}
	i.Location.Lines.Begin = max(place.Line, 1)
	if s.o.MaxResults > 0 && s.n >= s.o.MaxResults {
		s.left++
		s.last = i
		return
	}
	s.e.item(s.n, "  ", i)
	s.n++
}

func (s *codeQualitySink) leftOut() int { return s.left }

func (s *codeQualitySink) Close() error {
	if s.left > 0 {
		more := s.last
		more.CheckName, more.Severity, more.Fingerprint = "report/issues_left_out", "blocker", strings.Repeat("0", 32)
		more.Description = fmt.Sprintf("%s left out by --max-results %d.", plural(s.left, "further issue"), s.o.MaxResults)
		s.e.item(s.n, "  ", more)
		s.n++
	}
	s.e.endList(s.n, "")
	s.e.raw("\n")
	return s.e.flush()
}
