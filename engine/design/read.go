package design

import (
	"bytes"
	"fmt"
	"math"
	"unicode/utf8"

	"backpitch/engine/finding"
	"backpitch/engine/limit"
)

// Limits bound what Read accepts, so that hostile input is refused quickly. A
// zero field means the default of package limit.
type Limits struct {
	Bytes    int  // size of the file
	Depth    int  // objects and lists inside each other
	Values   int  // objects, lists and plain values together
	Elements int  // of a design, whatever has an id
	Digits   int  // of one number
	Text     int  // bytes of one text or key
	Problems int  // that are told; the rest are counted
	Fixed    bool // no flag raises them
}

// DefaultLimits returns the limits that zero fields stand for.
func DefaultLimits() Limits {
	return Limits{Bytes: limit.Bytes.Default, Depth: limit.Depth.Default, Values: limit.Values.Default, Elements: limit.Elements.Default,
		Digits: limit.Digits.Default, Text: limit.Text.Default, Problems: limit.Problems.Default}
}

// OrDefault puts the defaults where a field is zero.
func (l Limits) OrDefault() Limits {
	d := DefaultLimits()
	for _, f := range []struct{ to, from *int }{
		{&l.Bytes, &d.Bytes}, {&l.Depth, &d.Depth}, {&l.Values, &d.Values}, {&l.Elements, &d.Elements},
		{&l.Digits, &d.Digits}, {&l.Text, &d.Text}, {&l.Problems, &d.Problems},
	} {
		if *f.to <= 0 {
			*f.to = *f.from
		}
	}
	l.Bytes = min(l.Bytes, math.MaxInt32-1) // offsets are 32 bits
	l.Values = min(l.Values, math.MaxInt32-1)
	return l
}

// AtLeast raises the fields that are lower than those of m.
func (l Limits) AtLeast(m Limits) Limits {
	return Limits{Bytes: max(l.Bytes, m.Bytes), Depth: max(l.Depth, m.Depth), Values: max(l.Values, m.Values), Elements: max(l.Elements, m.Elements),
		Digits: max(l.Digits, m.Digits), Text: max(l.Text, m.Text), Problems: max(l.Problems, m.Problems), Fixed: l.Fixed}
}

// hint says what raises a limit.
func (l Limits) hint(which limit.Limit) string {
	if l.Fixed {
		return "no flag raises this limit"
	}
	return which.Hint()
}

// over is the fault of a file that is over a limit; it has no place yet.
func (l Limits) over(which limit.Limit, found string, allowed int) fault {
	return fault{code: which.Code(), message: which.Hit(found, allowed), hint: l.hint(which)}
}

// TooLarge is the problem of a text over max-bytes that nobody read to its end;
// what is "the file" or "the line", and found its bytes, or 0 where nobody
// counted them.
func TooLarge(file, what string, found int64, limits Limits) finding.Problem {
	limits = limits.OrDefault()
	x := limits.over(limit.Bytes, sizeOf(what, found, limits.Bytes), limits.Bytes)
	return finding.Problem{Place: finding.Place{File: file, Line: 1, Col: 1}, Code: x.code, Message: x.message, Hint: x.hint}
}

func sizeOf(what string, found int64, allowed int) string {
	if found == 0 {
		return fmt.Sprintf("%s has more than %d bytes", what, allowed)
	}
	return fmt.Sprintf("%s has %d bytes", what, found)
}

// Read reads the design in data; name is the file name that problems carry.
//
// The Document is nil when the design is unusable: its bytes, its JSON, its
// shape or one of its quantities cannot be read. Beside a Document that is not
// nil, problems say how the design contradicts itself. Problems are sorted by
// line, column and code; after the first Limits.Problems a last one counts the
// rest.
func Read(name string, data []byte, limits Limits) (*Document, []finding.Problem) {
	limits = limits.OrDefault()
	f := &faults{file: name, limits: limits}
	src, ok := decodable(data, limits, f)
	if !ok {
		return nil, f.problems()
	}
	t, ok := scan(src, limits, f)
	f.table = t
	if !ok {
		return nil, f.problems()
	}
	if n := t.elements(); n > limits.Elements {
		bad := limits.over(limit.Elements, fmt.Sprintf("the design has %d elements", n), limits.Elements)
		bad.line, bad.col = t.nodes[0].line, t.nodes[0].col
		f.add(bad)
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
		bad := limits.over(limit.Bytes, sizeOf("the file", int64(len(data)), limits.Bytes), limits.Bytes)
		bad.line, bad.col = 1, 1
		f.add(bad)
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
