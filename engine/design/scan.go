package design

import (
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"backpitch/engine/limit"
)

// scanner reads JSON as RFC 8259 has it, in one pass and without recursion. It
// is written by hand because no library gives duplicate keys, the place of
// every key and value, and limits at once. It stops at the first fault of
// syntax; duplicate keys are collected.
type scanner struct {
	table
	faults *faults
	limits Limits

	cursor
	open    int32 // innermost open object or list, -1 where none is
	depth   int
	pending node // carries the key that was read last
}

// cursor is the place of the next byte.
type cursor struct {
	i         int
	line      int32
	lineStart int // offset of the line's first byte
	wide      int // bytes of the line before i that only continue a character
}

// scan returns the nodes of src, and whether it was read to its end. Where it
// was not, the table holds the nodes up to the fault.
func scan(src []byte, limits Limits, f *faults) (*table, bool) {
	s := &scanner{faults: f, limits: limits, cursor: cursor{line: 1}, open: -1}
	s.src = src
	s.nodes = make([]node, 0, min(len(src)/12+8, limits.Values))
	f.table = &s.table
	if bad := s.document(); bad != nil {
		bad.node = max(s.open, 0)
		f.add(*bad)
		return &s.table, false
	}
	return &s.table, true
}

// document reads one value and everything in it.
func (s *scanner) document() *fault {
	for {
		if bad := s.value(); bad != nil {
			return bad
		}
		follows := false
		for s.open >= 0 && !follows {
			var bad *fault
			if follows, bad = s.separator(); bad != nil {
				return bad
			}
		}
		if !follows {
			break
		}
	}
	if s.space(); s.i < len(s.src) {
		return s.fault("trailing_data", fmt.Sprintf("%s follows the end of the %s", s.here(), s.faults.what()), "a file holds one "+s.faults.what())
	}
	return nil
}

// value reads one value, or the opening of an object or list.
func (s *scanner) value() *fault {
	if s.space(); s.i == len(s.src) {
		return s.ends()
	}
	if len(s.nodes) >= s.limits.Values {
		values, _ := s.rest()
		return s.over(limit.Values, fmt.Sprintf("the file has %d values", len(s.nodes)+values), s.limits.Values)
	}
	at := int32(len(s.nodes))
	n := s.pending
	s.pending = node{}
	n.parent, n.start, n.line, n.col = s.open, int32(s.i), s.line, s.col()
	var bad *fault
	switch c := s.src[s.i]; {
	case c == '{' || c == '[':
		if s.depth >= s.limits.Depth {
			_, deepest := s.rest()
			return s.over(limit.Depth, fmt.Sprintf("objects and lists are nested %d deep", deepest), s.limits.Depth)
		}
		if c == '[' {
			n.kind = arrayNode
		}
		s.i++
		s.depth++
	case c == '"':
		n.kind = stringNode
		n.escaped, bad = s.text()
	case c == '-' || isDigit(c):
		n.kind = numberNode
		bad = s.number()
	default:
		n.kind, bad = s.word()
	}
	if bad != nil {
		return bad
	}
	if s.open >= 0 {
		n.index = s.nodes[s.open].count
		s.nodes[s.open].count++
	}
	n.end, n.next = int32(s.i), at+1
	s.nodes = append(s.nodes, n)
	if n.kind == objectNode || n.kind == arrayNode {
		s.open = at
	}
	return nil
}

// separator reads what stands between the values of the open object or list:
// a comma and, in an object, a key; or the end. It reports whether a value
// follows.
func (s *scanner) separator() (follows bool, bad *fault) {
	if s.space(); s.i == len(s.src) {
		return false, s.ends()
	}
	o := &s.nodes[s.open]
	closer := byte('}')
	if o.kind == arrayNode {
		closer = ']'
	}
	switch c := s.src[s.i]; {
	case c == closer:
		s.close()
		return false, nil
	case o.count == 0:
	case c != ',':
		return false, s.noComma(closer)
	default:
		comma := s.cursor
		s.i++
		if s.space(); s.i < len(s.src) && s.src[s.i] == closer {
			s.cursor = comma
			return false, s.fault("bad_json", fmt.Sprintf("a comma stands before %q", rune(closer)), "leave the comma out")
		}
	}
	if o.kind == objectNode {
		return true, s.member()
	}
	return true, nil
}

// close ends the open object or list.
func (s *scanner) close() {
	n := s.open
	s.i++
	s.depth--
	s.nodes[n].end, s.nodes[n].next = int32(s.i), int32(len(s.nodes))
	if s.nodes[n].kind == objectNode {
		s.duplicates(n)
	}
	s.open = s.nodes[n].parent
}

// member reads a key and its colon.
func (s *scanner) member() *fault {
	if s.i == len(s.src) {
		return s.ends()
	}
	if s.src[s.i] != '"' {
		return s.noKey()
	}
	k := node{key: int32(s.i + 1), keyLine: s.line, keyCol: s.col()}
	var bad *fault
	if k.keyEscaped, bad = s.text(); bad != nil {
		return bad
	}
	k.keyEnd = int32(s.i - 1)
	if s.space(); s.i == len(s.src) {
		return s.ends()
	}
	if s.src[s.i] != ':' {
		return s.fault("bad_json", fmt.Sprintf("a colon is missing before %s", s.here()), `write "key": value`)
	}
	s.i++
	s.pending = k
	return nil
}

// duplicates reports the keys that object n has twice.
func (s *scanner) duplicates(n int32) {
	const few = 40 // walking few keys is faster than a map
	o := &s.nodes[n]
	if o.count < 2 {
		return
	}
	var seen map[string]int32
	if o.count > few {
		seen = make(map[string]int32, o.count)
	}
	for c := n + 1; c < o.next; c = s.nodes[c].next {
		first := int32(-1)
		if o.count > few {
			key := s.key(c)
			if at, ok := seen[key]; ok {
				first = at
			} else {
				seen[key] = c
			}
		} else {
			first = s.sameBefore(n, c)
		}
		if first >= 0 {
			line := s.nodes[first].keyLine
			s.faults.addAt(c, true, "duplicate_key", func() (string, string) {
				return fmt.Sprintf("the key %q is given twice; the first is on line %d", short(s.key(c)), line), ""
			})
		}
	}
}

// sameBefore returns the first member of n that has the key of its member c
// and stands before it, or -1.
func (s *scanner) sameBefore(n, c int32) int32 {
	nc := &s.nodes[c]
	for e := n + 1; e < c; e = s.nodes[e].next {
		ne := &s.nodes[e]
		if !nc.keyEscaped && !ne.keyEscaped {
			if nc.keyEnd-nc.key == ne.keyEnd-ne.key && string(s.src[nc.key:nc.keyEnd]) == string(s.src[ne.key:ne.keyEnd]) {
				return e
			}
		} else if s.key(c) == s.key(e) {
			return e
		}
	}
	return -1
}

// space skips blanks and counts lines.
func (s *scanner) space() {
	for s.i < len(s.src) {
		switch s.src[s.i] {
		case '\n':
			s.line++
			s.lineStart, s.wide = s.i+1, 0
		case ' ', '\t', '\r':
		default:
			return
		}
		s.i++
	}
}

// text reads a string and reports whether it has escapes.
func (s *scanner) text() (escaped bool, bad *fault) {
	begin := s.cursor
	for s.i++; s.i < len(s.src); {
		switch c := s.src[s.i]; {
		case c == '"':
			s.i++
			return escaped, nil
		case c == '\\':
			escaped = true
			if bad := s.escape(); bad != nil {
				return escaped, bad
			}
		case c < ' ':
			return escaped, s.control(c)
		case c < utf8.RuneSelf:
			s.i++
		default:
			r, size := utf8.DecodeRune(s.src[s.i:])
			if r == utf8.RuneError && size == 1 {
				return escaped, s.badUTF8()
			}
			s.i += size
			s.wide += size - 1
		}
		if s.i-begin.i > s.limits.Text+1 {
			size := s.afterText(begin.i) - begin.i - len(`""`)
			s.cursor = begin
			return escaped, s.over(limit.Text, fmt.Sprintf("the text has %d bytes", size), s.limits.Text)
		}
	}
	s.cursor = begin
	return escaped, s.fault("unexpected_end", "the file ends inside this text", `close the text with "`)
}

// escape reads one escape.
func (s *scanner) escape() *fault {
	rest := s.src[s.i+1:]
	if len(rest) == 0 {
		s.i++
		return nil // text tells that the file ends
	}
	switch rest[0] {
	case '"', '\\', '/', 'b', 'f', 'n', 'r', 't':
		s.i += 2
		return nil
	case 'u':
		u, ok := hex4(rest[1:])
		if !ok {
			return s.fault("bad_escape", `\u is not followed by four hexadecimal digits`, `write \u00e9, or the character itself`)
		}
		if u < 0xD800 || u > 0xDFFF {
			s.i += 6
			return nil
		}
		if len(rest) > 6 && rest[5] == '\\' && rest[6] == 'u' {
			if low, ok := hex4(rest[7:]); ok && u < 0xDC00 && low >= 0xDC00 && low <= 0xDFFF {
				s.i += 12
				return nil
			}
		}
		return s.fault("bad_escape", fmt.Sprintf(`\u%04x is half a character`, u), "write the character itself")
	}
	c, _ := utf8.DecodeRune(rest)
	return s.fault("bad_escape", fmt.Sprintf("a backslash before %q is no escape", c), `write \\ for a backslash`)
}

// hex4 reads four hexadecimal digits.
func hex4(b []byte) (uint64, bool) {
	if len(b) < 4 || b[0] == '+' || b[0] == '-' || b[0] == '_' {
		return 0, false
	}
	u, err := strconv.ParseUint(string(b[:4]), 16, 16)
	return u, err == nil
}

// number reads a number.
func (s *scanner) number() *fault {
	begin := s.i
	refuse := func(code, message string) *fault {
		s.i = begin
		return s.fault(code, message, "")
	}
	digits := 0
	run := func() int {
		from := s.i
		for s.i < len(s.src) && isDigit(s.src[s.i]) && digits <= s.limits.Digits {
			s.i++
			digits++
		}
		return s.i - from
	}
	if s.src[s.i] == '-' {
		s.i++
	}
	zero := s.i < len(s.src) && s.src[s.i] == '0'
	n := run()
	if n > 1 && zero {
		return refuse("bad_json", "a number starts with a needless 0")
	}
	if n > 0 && s.i < len(s.src) && s.src[s.i] == '.' {
		s.i++
		n = run()
	}
	exponent := n > 0 && s.i < len(s.src) && (s.src[s.i] == 'e' || s.src[s.i] == 'E')
	if exponent {
		if s.i++; s.i < len(s.src) && (s.src[s.i] == '+' || s.src[s.i] == '-') {
			s.i++
		}
		n = run()
	}
	if digits > s.limits.Digits {
		for ; s.i < len(s.src) && strings.IndexByte("0123456789.eE+-", s.src[s.i]) >= 0; s.i++ {
			if isDigit(s.src[s.i]) {
				digits++
			}
		}
		s.i = begin
		return s.over(limit.Digits, fmt.Sprintf("the number has %d digits", digits), s.limits.Digits)
	}
	if n == 0 {
		return refuse("bad_json", fmt.Sprintf("the number %q has no digit at its end", s.src[begin:s.i]))
	}
	if exponent || digits > 300 {
		if _, err := strconv.ParseFloat(string(s.src[begin:s.i]), 64); err != nil {
			return refuse("out_of_range", "the number is too large")
		}
	}
	return nil
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

// over is the fault of a limit, at the next byte.
func (s *scanner) over(which limit.Limit, found string, allowed int) *fault {
	bad := s.limits.over(which, found, allowed)
	return s.fault(bad.code, bad.message, bad.hint)
}

// rest counts the values that begin at or after the next byte, and how deep
// they are nested, so that a message can say what the limit would have to be.
// It keeps nothing and looks for no fault.
func (s *scanner) rest() (values, deepest int) {
	depth := s.depth
	for i := s.i; i < len(s.src); {
		switch c := s.src[i]; {
		case c == '{' || c == '[':
			values++
			depth++
			deepest = max(deepest, depth)
			i++
		case c == '}' || c == ']':
			depth--
			i++
		case c == '"':
			i = s.afterText(i)
			for i < len(s.src) && strings.IndexByte(" \t\r\n", s.src[i]) >= 0 {
				i++
			}
			if i >= len(s.src) || s.src[i] != ':' { // else it is a key
				values++
			}
		case strings.IndexByte(" \t\r\n,:", c) >= 0:
			i++
		default:
			values++
			for i < len(s.src) && strings.IndexByte(" \t\r\n,:{}[]\"", s.src[i]) < 0 {
				i++
			}
		}
	}
	return values, deepest
}

// afterText is the offset behind the text whose opening quote is at i; where
// the file ends inside it, as if the closing quote followed.
func (s *scanner) afterText(i int) int {
	for i++; i < len(s.src); i++ {
		switch s.src[i] {
		case '\\':
			i++
		case '"':
			return i + 1
		}
	}
	return len(s.src) + 1
}
