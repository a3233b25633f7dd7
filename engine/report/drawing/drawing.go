package drawing

import (
	"fmt"
	"strconv"
	"strings"

	"backpitch/engine/quantity"
)

// Frame is what every drawing needs beside its data.
type Frame struct {
	Prefix string            // of every id in the image, so that several fit on one page
	Title  string            // short name; a plain one is used where empty
	Desc   string            // the content in words; written from the data where empty
	Units  quantity.System   // of printed numbers and axes
	Marks  map[string][]Mark // finding marks by element id
}

// Mark is the number of a finding at the element it is about.
type Mark struct {
	Text string // printed in the ring: a number of up to three digits
	Href string // where it leads on the same page: "#finding-3"; empty for no link
	Name string // read aloud: "finding 3: drain too flat"
}

// ElementID is the XML id that an element carries in a drawing. Different
// element ids never give one XML id.
func ElementID(prefix, id string) string {
	var b strings.Builder
	b.WriteString(prefix)
	for _, r := range id {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-', r == '.':
			b.WriteRune(r)
		default:
			fmt.Fprintf(&b, "_%x_", r)
		}
	}
	return b.String()
}

// ViewBox returns the width and height of a drawing in its own units, about
// one CSS pixel each at the size it was drawn for; 0, 0 for other bytes. A page
// that wants readable text lets a wide drawing scroll.
func ViewBox(svg []byte) (width, height int) {
	_, after, ok := strings.Cut(string(svg[:min(len(svg), 400)]), `viewBox="0 0 `)
	if !ok {
		return 0, 0
	}
	box, _, _ := strings.Cut(after, `"`)
	w, h, _ := strings.Cut(box, " ")
	width, errW := strconv.Atoi(w)
	height, errH := strconv.Atoi(h)
	if errW != nil || errH != nil {
		return 0, 0
	}
	return width, height
}

// number writes a coordinate: two decimals at most, never "-0".
func number(x float64) string {
	s := strconv.FormatFloat(x, 'f', 2, 64)
	s = strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

// escape makes user text safe in XML text and in double-quoted attributes.
func escape(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == '&':
			b.WriteString("&amp;")
		case r == '<':
			b.WriteString("&lt;")
		case r == '>':
			b.WriteString("&gt;")
		case r == '"':
			b.WriteString("&quot;")
		case r == '\n', r == '\t', r == '\r':
			b.WriteByte(' ')
		case r < ' ', r == 0xfffe, r == 0xffff:
			b.WriteRune('\uFFFD')
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// words joins what is not empty with a separator.
func words(sep string, parts ...string) string {
	var kept []string
	for _, p := range parts {
		if p != "" {
			kept = append(kept, p)
		}
	}
	return strings.Join(kept, sep)
}

// count writes "1 drain", "2 drains".
func count(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return strconv.Itoa(n) + " " + word + "s"
}
