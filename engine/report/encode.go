package report

import (
	"bufio"
	"bytes"
	"encoding/json"
	"io"
)

// encoder writes a JSON document piece by piece, laid out as json.Indent would
// have laid out the whole. It keeps the first error.
type encoder struct {
	w   *bufio.Writer
	err error
}

func newEncoder(w io.Writer) *encoder { return &encoder{w: bufio.NewWriter(w)} }

// raw writes text as it is.
func (e *encoder) raw(text string) {
	if e.err == nil {
		_, e.err = e.w.WriteString(text)
	}
}

// value writes v, whose further lines begin with indent; an indent of "-"
// writes one line.
func (e *encoder) value(indent string, v any) {
	if e.err != nil {
		return
	}
	var buf bytes.Buffer
	enc := json.NewEncoder(&buf)
	enc.SetEscapeHTML(false)
	if indent != oneLine {
		enc.SetIndent(indent, "  ")
	}
	if e.err = enc.Encode(v); e.err == nil {
		_, e.err = e.w.Write(bytes.TrimSuffix(buf.Bytes(), []byte("\n")))
	}
}

const oneLine = "-"

// items writes the next item of a list whose items begin with indent; n is how
// many came before it.
func (e *encoder) item(n int, indent string, v any) {
	if n > 0 {
		e.raw(",")
	}
	e.raw("\n" + indent)
	e.value(indent, v)
}

// endList closes a list of n items; indent is that of the list's own line.
func (e *encoder) endList(n int, indent string) {
	if n > 0 {
		e.raw("\n" + indent)
	}
	e.raw("]")
}

// from writes what a spool holds.
func (e *encoder) from(s *spool) {
	if e.err == nil {
		e.err = s.copyTo(e.w)
	}
}

// flush hands everything over and returns the first error.
func (e *encoder) flush() error {
	if e.err == nil {
		e.err = e.w.Flush()
	}
	return e.err
}
