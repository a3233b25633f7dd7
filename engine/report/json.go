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
	e      *encoder
	o      Options
	n      int
	totals finding.Counts
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
	if s.n == 0 {
		s.begin()
	}
	s.e.item(s.n, "    ", withLists(entry.Review))
	s.n++
	add(&s.totals, entry.Counts)
	return s.e.err
}

func (s *jsonSink) Close() error {
	if s.n == 0 {
		s.begin()
	}
	s.e.endList(s.n, "  ")
	s.e.raw(",\n  \"totals\": ")
	s.e.value("  ", s.totals)
	s.e.raw(",\n  \"cautions\": ")
	s.e.value("  ", Cautions)
	s.e.raw("\n}\n")
	return s.e.flush()
}

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
