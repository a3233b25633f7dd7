package design

import (
	"bytes"
	"fmt"
	"math"
	"unicode/utf8"

	"backpitch/engine/finding"
)

// Limits bound what Read accepts, so that hostile input is refused quickly. A
// zero field means the default.
type Limits struct {
	Bytes  int // size of the file: 16 MiB
	Depth  int // objects and lists inside each other: 64
	Values int // objects, lists and plain values together: 500,000
	Digits int // digits of one number: 64
	Text   int // bytes of one text or key: 10,000
}

// DefaultLimits returns the limits that zero fields stand for. A design of
// 5,000 pipes has about 150,000 values.
func DefaultLimits() Limits {
	return Limits{Bytes: 16 << 20, Depth: 64, Values: 500_000, Digits: 64, Text: 10_000}
}

func (l Limits) orDefault() Limits {
	d := DefaultLimits()
	for _, f := range []struct{ to, from *int }{
		{&l.Bytes, &d.Bytes}, {&l.Depth, &d.Depth}, {&l.Values, &d.Values}, {&l.Digits, &d.Digits}, {&l.Text, &d.Text},
	} {
		if *f.to <= 0 {
			*f.to = *f.from
		}
	}
	l.Bytes = min(l.Bytes, math.MaxInt32-1) // offsets are 32 bits
	l.Values = min(l.Values, math.MaxInt32-1)
	return l
}

// Read reads the design in data; name is the file name that problems carry.
//
// The Document is nil when the design is unusable: its bytes, its JSON, its
// shape or one of its quantities cannot be read. Beside a Document that is not
// nil, problems say how the design contradicts itself. Problems are sorted by
// line, column and code; after the first 100 a last one counts the rest.
func Read(name string, data []byte, limits Limits) (*Document, []finding.Problem) {
	limits = limits.orDefault()
	f := &faults{file: name}
	src, ok := decodable(data, limits, f)
	if !ok {
		return nil, f.problems()
	}
	t, ok := scan(src, limits, f)
	f.table = t
	if !ok {
		return nil, f.problems()
	}
	validate(loadRules("design"), t, f)
	doc := decode(t, f)
	if len(f.list) > 0 {
		return nil, f.problems()
	}
	check(doc, f)
	return doc, f.problems()
}

var byteOrderMark = []byte("\xEF\xBB\xBF")

// decodable refuses what is not UTF-8 text of a bearable size. It reports a
// UTF-8 byte order mark (RFC 8259, section 8.1) and goes on behind it.
func decodable(data []byte, limits Limits, f *faults) ([]byte, bool) {
	if len(data) > limits.Bytes {
		f.add(fault{line: 1, col: 1, code: "too_large", message: fmt.Sprintf(
			"the file has %d bytes; at most %d are read", len(data), limits.Bytes), hint: "check that it is " + withArticle(f.what()) + ", and leave out what is not needed"})
		return nil, false
	}
	if enc := foreignEncoding(data); enc != "" {
		f.add(fault{line: 1, col: 1, code: "wrong_encoding",
			message: "the file is in " + enc + ", not in UTF-8", hint: "save it as UTF-8 without a byte order mark"})
		return nil, false
	}
	if rest, marked := bytes.CutPrefix(data, byteOrderMark); marked {
		f.add(fault{line: 1, col: 1, code: "byte_order_mark",
			message: "the file starts with a byte order mark", hint: `save it as UTF-8 without a byte order mark ("UTF-8", not "UTF-8 with BOM")`})
		data = rest
	}
	if len(bytes.TrimLeft(data, " \t\r\n")) == 0 {
		message := "the file is empty"
		if len(data) > 0 {
			message = "the file holds nothing but blanks"
		}
		f.add(fault{line: 1, col: 1, code: "empty_file", message: message, hint: withArticle(f.what()) + ` starts with "{"`})
		return nil, false
	}
	return data, true
}

// foreignEncoding names an encoding other than UTF-8, by its byte order mark
// or, as RFC 4627 section 3 has it, by where the first characters, which are
// ASCII in JSON, have their zero bytes.
func foreignEncoding(data []byte) string {
	var b [4]byte
	n := copy(b[:], data)
	zero := func(i int) bool { return i < n && b[i] == 0 }
	some := func(i int) bool { return i < n && b[i] != 0 && b[i] < utf8.RuneSelf }
	switch {
	case n == 4 && b == [4]byte{0, 0, 0xFE, 0xFF}, zero(0) && zero(1) && zero(2) && some(3):
		return "UTF-32 (big-endian)"
	case n == 4 && b == [4]byte{0xFF, 0xFE, 0, 0}, some(0) && zero(1) && zero(2) && zero(3):
		return "UTF-32 (little-endian)"
	case n >= 2 && b[0] == 0xFE && b[1] == 0xFF, zero(0) && some(1) && (n < 4 || zero(2)):
		return "UTF-16 (big-endian)"
	case n >= 2 && b[0] == 0xFF && b[1] == 0xFE, some(0) && zero(1) && (n < 4 || zero(3)):
		return "UTF-16 (little-endian)"
	}
	return ""
}
