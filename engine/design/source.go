package design

import (
	"encoding/json"
	"errors"
	"fmt"

	"backpitch/engine/finding"
)

// Source is another document, read with the care that a design gets: an
// approvals file, a baseline, a saved review. It keeps to its schema.
type Source struct {
	file  string
	table *table
}

// ReadSource reads the document in data, which must keep to the embedded
// schema; noun is what problems call it. The Source is nil when there are
// problems.
func ReadSource(file, schemaName, noun string, data []byte, limits Limits) (*Source, []finding.Problem) {
	limits = limits.OrDefault()
	f := &faults{file: file, noun: noun, limits: limits}
	src, ok := decodable(data, limits, f)
	if !ok {
		return nil, f.problems()
	}
	t, ok := scan(src, limits, f)
	f.table = t
	if ok {
		validate(loadRules(schemaName), t, f)
	}
	if len(f.list) > 0 {
		return nil, f.problems()
	}
	return &Source{file: file, table: t}, nil
}

// Decode fills into, a pointer to what the schema describes. What the schema
// allows and Go cannot hold, such as a whole number of 30 digits, is a problem.
func (s *Source) Decode(into any) []finding.Problem {
	err := json.Unmarshal(s.table.src, into)
	if err == nil {
		return nil
	}
	p := finding.Problem{Place: finding.Place{File: s.file, Line: 1, Col: 1}, Code: "out_of_range", Message: err.Error()}
	var bad *json.UnmarshalTypeError
	if errors.As(err, &bad) {
		p.Message = fmt.Sprintf("%s cannot be read as %s", bad.Value, bad.Type)
		for n := range s.table.nodes {
			// The offset is the end of the value that does not fit.
			if nd := &s.table.nodes[n]; int64(nd.start) < bad.Offset && bad.Offset <= int64(nd.end) && nd.next == int32(n)+1 {
				p.Place = s.place(int32(n))
			}
		}
	}
	return []finding.Problem{p}
}

// Has reports whether a JSON Pointer leads to a value.
func (s *Source) Has(pointer string) bool {
	_, found := s.table.resolve(pointer)
	return found
}

// Place returns where the value of a JSON Pointer stands or, where it is not
// there, the innermost object or list on the way to it.
func (s *Source) Place(pointer string) finding.Place {
	n, _ := s.table.resolve(pointer)
	return s.place(n)
}

func (s *Source) place(n int32) finding.Place {
	at := s.table.position(n)
	return finding.Place{File: s.file, Line: at.Line, Col: at.Col, Pointer: at.Pointer}
}

// HasKey reports whether data is a JSON object with that key at its top, so
// that a command can tell documents apart before it reads them.
func HasKey(data []byte, key string, limits Limits) bool {
	t, _ := scan(data, limits.OrDefault(), &faults{})
	return len(t.nodes) > 0 && t.nodes[0].kind == objectNode && t.topHas(key)
}

// topHas looks for a key at the top of a table that may end early.
func (t *table) topHas(key string) bool {
	for n := 1; n < len(t.nodes); n++ {
		if t.nodes[n].parent == 0 && t.hasKey(int32(n), key) {
			return true
		}
	}
	return false
}

// DidYouMean is the hint that offers the choices nearest to word, or "".
func DidYouMean(word string, choices []string) string { return didYouMean(word, choices) }

// Values calls f for every element of the design with its own text, as
// written: the project, the building, then those with an id, in the order of
// Document. A Document that was not read from a text has none.
func (d *Document) Values(f func(e Element, text []byte)) {
	if d.source == nil {
		return
	}
	tell := func(e Element) {
		if n, ok := d.source.resolve(e.Position.Pointer); ok {
			f(e, d.source.src[d.source.nodes[n].start:d.source.nodes[n].end])
		}
	}
	for _, id := range []string{"project", "building"} {
		if e, ok := d.Find(id); ok {
			tell(e)
		}
	}
	d.each(tell)
}
