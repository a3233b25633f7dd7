package report

import (
	"io"

	"backpitch/engine/finding"
)

// FindingsSchema is the $schema value of a JSON report; the text of the schema
// is printed by `backpitch schema findings`.
const FindingsSchema = "findings.schema.json"

type jsonTool struct {
	Name    string `json:"name"`
	Version string `json:"version"`
}

// jsonSink prints every outcome, passes and margins included, as
// schema/findings.schema.json describes.
type jsonSink struct {
	e *encoder
	o Options
	t tally
}

func newJSON(w io.Writer, o Options) Sink {
	return &jsonSink{e: newEncoder(w), o: o}
}

func (s *jsonSink) begin() {
	s.e.raw("{\n  \"$schema\": ")
	s.e.value("  ", FindingsSchema)
	s.e.raw(",\n  \"tool\": ")
	s.e.value("  ", jsonTool{Name: "backpitch", Version: s.o.Version})
	s.e.raw(",\n  \"reviews\": [")
}

func (s *jsonSink) Review(entry Entry) error {
	if s.t.submissions == 0 {
		s.begin()
	}
	s.e.item(s.t.submissions, "    ", jsonEntry(entry))
	s.t.add(RowOf(entry))
	return s.e.err
}

func (s *jsonSink) Close() error {
	if s.t.submissions == 0 {
		s.begin()
	}
	s.e.endList(s.t.submissions, "  ")
	s.e.raw(",\n  \"totals\": ")
	s.e.value("  ", s.t.counts)
	if s.t.submissions > 1 {
		s.e.raw(",\n  \"roll_up\": ")
		s.e.value("  ", jsonRollUp{s.t.submissions, s.t.unchecked, s.t.commonest()})
	}
	s.e.raw(",\n  \"cautions\": ")
	s.e.value("  ", Cautions)
	s.e.raw("\n}\n")
	return s.e.flush()
}

type jsonRollUp struct {
	Submissions int       `json:"submissions"`
	NotChecked  int       `json:"not_checked"`
	Rules       []RuleSum `json:"rules"`
}

// ndjsonSink prints a review object a line, as it comes.
type ndjsonSink struct{ e *encoder }

func newNDJSON(w io.Writer, _ Options) Sink { return ndjsonSink{newEncoder(w)} }

func (s ndjsonSink) Review(entry Entry) error {
	s.e.value(oneLine, jsonEntry(entry))
	s.e.raw("\n")
	return s.e.err
}

// Flush hands over the lines written so far.
func (s ndjsonSink) Flush() error { return s.e.flush() }

func (s ndjsonSink) Close() error { return s.e.flush() }

type jsonReview struct {
	Line int `json:"line,omitempty"`
	finding.Review
}

func jsonEntry(e Entry) jsonReview { return jsonReview{e.Line, withLists(e.Review)} }

// withLists makes empty lists [] for whoever iterates over them.
func withLists(r finding.Review) finding.Review {
	if r.Problems == nil {
		r.Problems = []finding.Problem{}
	}
	if r.Findings == nil {
		r.Findings = []finding.Finding{}
	}
	return r
}
