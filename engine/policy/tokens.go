package policy

import "bytes"

// token is a word, number, string or sign of Rego; comments are left out.
type token struct {
	off, end int
	kind     tokenKind
}

type tokenKind byte

const (
	sign   tokenKind = iota
	wordy            // a name or a dotted path of names
	number           // whole numbers are all that rules write
	quoted           // "…" or `…`
)

// scan splits the source from off on. It never fails: what it does not know is
// a sign of one byte.
func scan(source []byte, off int) []token {
	var out []token
	for off < len(source) {
		c := source[off]
		switch {
		case c == ' ' || c == '\t' || c == '\n' || c == '\r':
			off++
			continue
		case c == '#':
			if n := bytes.IndexByte(source[off:], '\n'); n >= 0 {
				off += n
				continue
			}
			return out
		}
		t := token{off: off, end: off + 1}
		switch {
		case c == '"':
			t.kind, t.end = quoted, endOfString(source, off)
		case c == '`':
			t.kind = quoted
			if n := bytes.IndexByte(source[off+1:], '`'); n >= 0 {
				t.end = off + n + 2
			}
		case letter(c):
			t.kind, t.end = wordy, endOfPath(source, off)
		case digit(c):
			t.kind = number
			for t.end < len(source) && (digit(source[t.end]) || source[t.end] == '.') {
				t.end++
			}
		case off+1 < len(source) && source[off+1] == '=' && bytes.IndexByte([]byte("=!<>:"), c) >= 0:
			t.end = off + 2
		}
		out = append(out, t)
		off = t.end
	}
	return out
}

func letter(c byte) bool { return c == '_' || c|0x20 >= 'a' && c|0x20 <= 'z' }
func digit(c byte) bool  { return c >= '0' && c <= '9' }

func endOfString(source []byte, off int) int {
	for i := off + 1; i < len(source); i++ {
		switch source[i] {
		case '\\':
			i++
		case '"':
			return i + 1
		}
	}
	return len(source)
}

// endOfPath takes a.b.c as one.
func endOfPath(source []byte, off int) int {
	i := off
	for i < len(source) {
		c := source[i]
		if !letter(c) && !digit(c) && (c != '.' || i+1 >= len(source) || !letter(source[i+1])) {
			break
		}
		i++
	}
	return i
}
