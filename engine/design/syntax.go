package design

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// The words of the scanner: what is wrong, and what was probably meant.

// fault makes a fault at the next byte.
func (s *scanner) fault(code, message, hint string) *fault {
	return &fault{line: s.line, col: s.col(), code: code, message: message, hint: hint}
}

// col is the column of the next byte.
func (s *scanner) col() int32 { return int32(s.i - s.lineStart - s.wide + 1) }

// here names the next character.
func (s *scanner) here() string {
	r, size := utf8.DecodeRune(s.src[s.i:])
	if r == utf8.RuneError && size == 1 {
		return fmt.Sprintf("the byte 0x%02X", s.src[s.i])
	}
	return fmt.Sprintf("%q", r)
}

// ends is the fault of a file that stops too early.
func (s *scanner) ends() *fault {
	if s.open < 0 {
		return s.fault("unexpected_end", "the file ends before a value", "")
	}
	o := &s.nodes[s.open]
	return s.fault("unexpected_end", fmt.Sprintf("the file ends inside %s that starts on line %d", words[o.kind], o.line),
		fmt.Sprintf("close it with %q", closers[o.kind]))
}

var closers = map[nodeKind]string{objectNode: "}", arrayNode: "]"}

// word reads true, false or null, or says what stands there instead.
func (s *scanner) word() (nodeKind, *fault) {
	end := s.i
	for end < len(s.src) && end-s.i < 40 && isWord(s.src[end]) {
		end++
	}
	w := string(s.src[s.i:end])
	for k := trueNode; k <= nullNode; k++ {
		if w == words[k] {
			s.i = end
			return k, nil
		}
	}
	return 0, s.noValue(w)
}

func isWord(c byte) bool {
	return isDigit(c) || 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' || c == '_' || c == '-' || c == '.'
}

// noValue is the fault of something that is no value; w is the word there.
func (s *scanner) noValue(w string) *fault {
	c := s.src[s.i]
	switch lower := strings.ToLower(w); lower {
	case "":
	case "true", "false", "null":
		return s.fault("bad_json", fmt.Sprintf("%q is not a value", w), fmt.Sprintf("write %s in lower case, without quotes", lower))
	case "nan", "inf", "infinity":
		return s.fault("bad_json", fmt.Sprintf("%q is not a number", w), "leave the key out when the value is not known")
	default:
		if c == '.' {
			return s.fault("bad_json", "a number starts with a point", "write 0 before the point")
		}
		return s.fault("bad_json", fmt.Sprintf("the text %q has no quotes", w), fmt.Sprintf(`write "%s"`, w))
	}
	switch c {
	case ',', '}', ']':
		return s.fault("bad_json", fmt.Sprintf("a value is missing before %q", rune(c)), "")
	case '+':
		return s.fault("bad_json", "a number starts with a plus sign", "leave the plus sign out")
	}
	return s.stray("a value is expected")
}

// noKey is the fault of something that is no key.
func (s *scanner) noKey() *fault {
	c := s.src[s.i]
	switch {
	case c == ',':
		return s.fault("bad_json", "a key is missing before the comma", "")
	case c == ':':
		return s.fault("bad_json", "a key is missing before the colon", "")
	case isWord(c):
		end := s.i
		for end < len(s.src) && end-s.i < 40 && isWord(s.src[end]) {
			end++
		}
		w := s.src[s.i:end]
		return s.fault("bad_json", fmt.Sprintf("the key %q has no quotes", w), fmt.Sprintf(`write "%s"`, w))
	}
	return s.stray("a key in quotes is expected")
}

// noComma is the fault of a value that neither comma nor closer follows.
func (s *scanner) noComma(closer byte) *fault {
	c := s.src[s.i]
	last := &s.nodes[len(s.nodes)-1]
	if touches := int(last.end) == s.i; last.kind == numberNode && last.line == s.line &&
		(touches && strings.IndexByte(`/'":%`, c) >= 0 || isWord(c) && !isDigit(c)) {
		return s.fault("bad_json", fmt.Sprintf("%q follows a number", rune(c)), `write a quantity as text, such as "12 in"`)
	}
	switch {
	case c == '"', c == '{', c == '[', isWord(c):
		return s.fault("bad_json", fmt.Sprintf("a comma is missing before %s", s.here()), "")
	case c == '}' || c == ']':
		o := &s.nodes[s.open]
		return s.fault("bad_json", fmt.Sprintf("%q does not close %s that starts on line %d", rune(c), words[o.kind], o.line),
			fmt.Sprintf("close it with %q first", string(closer)))
	}
	return s.stray(fmt.Sprintf("a comma or %q is expected", rune(closer)))
}

// stray is the fault of a character that has no business where it stands.
func (s *scanner) stray(expected string) *fault {
	c := s.src[s.i]
	r, size := utf8.DecodeRune(s.src[s.i:])
	hint := ""
	switch {
	case c < ' ':
		return s.control(c)
	case r == utf8.RuneError && size == 1:
		return s.badUTF8()
	case c == '/' || c == '#':
		hint = "comments are not part of JSON; use a label"
	case c == '\'', strings.ContainsRune("“”„‘’«»", r):
		hint = `write text in straight double quotes: "text"`
	case r == '\uFEFF':
		hint = "a byte order mark stands inside the file; save it as UTF-8 without one"
	}
	return s.fault("bad_json", fmt.Sprintf("%s is not possible here: %s", s.here(), expected), hint)
}

// control is the fault of a control character.
func (s *scanner) control(c byte) *fault {
	switch c {
	case 0:
		return s.fault("control_character", "a NUL byte stands in the file", "save it as UTF-8 text")
	case '\n', '\r':
		return s.fault("control_character", "a text is not closed on its line", `close it with ", or write \n for a line break`)
	case '\t':
		return s.fault("control_character", "a tab stands in a text", `write \t, or a blank`)
	}
	return s.fault("control_character", fmt.Sprintf("the control character 0x%02X stands in the file", c), "")
}

func (s *scanner) badUTF8() *fault {
	return s.fault("bad_utf8", fmt.Sprintf("the byte 0x%02X is not UTF-8", s.src[s.i]), "save the file as UTF-8")
}

// short keeps hostile text from filling a report.
func short(text string) string {
	const most = 60
	if len(text) <= most {
		return text
	}
	return strings.ToValidUTF8(text[:most], "") + "…"
}
