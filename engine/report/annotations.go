package report

import (
	"bufio"
	"fmt"
	"io"
	"path"
	"path/filepath"
	"strings"

	"backpitch/engine/finding"
)

// annotationsSink prints workflow commands, which a CI job's log turns into
// marks on the lines of a file: ::error file=…,line=…,col=…,title=…::message.
//
// A code host shows a few of each kind for a step and drops the rest without a
// word, so no more than that are printed; the last line counts what was left
// out. Failures come from the same review as the other reports; the exit code
// counts them all.
type annotationsSink struct {
	w     *bufio.Writer
	o     Options
	limit int
	kinds map[string]*annotated
}

type annotated struct{ printed, left int }

// annotationLimit is how many annotations of one kind a step shows: "10
// warning annotations, 10 error annotations and 10 notice annotations per
// step", docs.github.com, limits of annotations (from memory).
const annotationLimit = 10

func newAnnotations(w io.Writer, o Options) Sink {
	s := &annotationsSink{w: bufio.NewWriter(w), o: o, limit: annotationLimit, kinds: map[string]*annotated{}}
	if o.MaxResults > 0 {
		s.limit = o.MaxResults
	}
	for _, k := range annotationKinds {
		s.kinds[k] = &annotated{}
	}
	return s
}

var annotationKinds = []string{"error", "warning", "notice"}

func (s *annotationsSink) Review(e Entry) error {
	for _, p := range e.Problems {
		s.print("error", p.Place, "problem in the document", sentence(p.Message+hintText(p.Hint)))
	}
	if e.Failure != "" {
		s.print("error", finding.Place{File: e.File}, "could not check", sentence(e.Failure+hintText(e.Hint)))
	}
	for _, p := range e.Notices {
		s.print("warning", p.Place, "approvals and baseline", sentence(p.Message+hintText(p.Hint)))
	}
	for _, f := range e.Findings {
		if s.o.Show[f.Outcome] {
			s.print(annotationKind(f), f.Place, f.Rule+" ("+outcomeWord(f)+")", outcomeNote(f)+sarifMessage(f))
		}
	}
	return s.w.Flush()
}

func annotationKind(f finding.Finding) string {
	switch {
	case f.Outcome == finding.Open:
		return "warning" // never a mark that looks like a pass
	case f.Outcome != finding.Fail, f.Excused(), f.Level == finding.Note:
		return "notice"
	case f.Level == finding.Warning:
		return "warning"
	}
	return "error"
}

func (s *annotationsSink) print(kind string, p finding.Place, title, message string) {
	k := s.kinds[kind]
	limit := s.limit
	if kind == "notice" && s.o.MaxResults == 0 {
		limit-- // of those that a host shows, the last one is for the count of what is left out
	}
	if k.printed >= limit {
		k.left++
		return
	}
	k.printed++
	place := "file=" + property(path.Clean(filepath.ToSlash(p.File)))
	if p.Line > 0 {
		place += fmt.Sprintf(",line=%d,col=%d", p.Line, p.Col)
	}
	fmt.Fprintf(s.w, "::%s %s,title=%s::%s\n", kind, place, property(title), data(message))
}

// leftOut is nothing where the host's own limit cut: no more could be shown.
func (s *annotationsSink) leftOut() int {
	n := 0
	for _, k := range s.kinds {
		n += k.left
	}
	if s.o.MaxResults == 0 {
		return 0
	}
	return n
}

func (s *annotationsSink) Close() error {
	var parts []string
	for _, kind := range annotationKinds {
		if n := s.kinds[kind].left; n > 0 {
			parts = append(parts, plural(n, "further "+kind))
		}
	}
	if len(parts) > 0 {
		fmt.Fprintf(s.w, "::notice title=backpitch::%s\n", data(fmt.Sprintf("%s not marked: at most %d of a kind are (--max-results changes it). The full report has them all.",
			strings.Join(parts, ", "), s.limit)))
	}
	return s.w.Flush()
}

// data and property escape what would end a workflow command or its fields.
func data(s string) string {
	return strings.NewReplacer("%", "%25", "\r", "%0D", "\n", "%0A").Replace(s)
}

func property(s string) string {
	return strings.NewReplacer("%", "%25", "\r", "%0D", "\n", "%0A", ":", "%3A", ",", "%2C").Replace(s)
}
