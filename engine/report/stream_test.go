package report

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"testing"

	"backpitch/engine/finding"
)

// TestPiecesMakeTheWhole holds that documents written piece by piece are laid
// out as one that is written whole.
func TestPiecesMakeTheWhole(t *testing.T) {
	for _, format := range []string{"json", "sarif", "codequality"} {
		for _, list := range [][]Entry{nil, sample()[:1], batch()} {
			out := render(t, format, list, Options{Show: show(), Marked: true})
			var whole bytes.Buffer
			if err := json.Indent(&whole, out, "", "  "); err != nil {
				t.Fatalf("%s of %d: %v\n%s", format, len(list), err, out)
			}
			if !bytes.Equal(out, whole.Bytes()) {
				t.Errorf("%s of %d reviews is not laid out as a whole:\n%s", format, len(list), out)
			}
		}
	}
	if err := sarifSchema(t).Validate(decode(t, render(t, "sarif", nil, Options{}))); err != nil {
		t.Errorf("SARIF of no review: %#v", err)
	}
}

// TestSpooledIsTheSame holds that what is kept in a file until the end of a
// large batch comes out as what is kept in memory.
func TestSpooledIsTheSame(t *testing.T) {
	var list []Entry
	for i := range 400 {
		r := finding.Review{File: fmt.Sprintf("%03d.json", i)}
		for j := range 10 {
			r.Problems = append(r.Problems, finding.Problem{Place: finding.Place{File: r.File, Line: j + 1, Col: 1}, Code: "unknown_key", Message: `no key "sise" here`})
		}
		list = append(list, Entry{Review: r})
	}
	spooled := 0
	inFile := render(t, "sarif", list, Options{Spool: func() (io.ReadWriteSeeker, error) {
		spooled++
		return os.Create(filepath.Join(t.TempDir(), "spool"))
	}})
	if spooled != 1 {
		t.Errorf("%d files for more than a megabyte of notifications, want 1", spooled)
	}
	if !bytes.Equal(inFile, render(t, "sarif", list, Options{})) {
		t.Error("notifications from a file differ from those in memory")
	}
	full := errors.New("no space left")
	f, _ := For("sarif")
	if err := Write(io.Discard, f, list, Options{Spool: func() (io.ReadWriteSeeker, error) { return nil, full }}); !errors.Is(err, full) {
		t.Errorf("Write = %v, want %v", err, full)
	}
}

// failing takes some bytes and then no more.
type failing struct{ left int }

var errFull = errors.New("no space left")

func (w *failing) Write(p []byte) (int, error) {
	if w.left -= len(p); w.left < 0 {
		return 0, errFull
	}
	return len(p), nil
}

// TestEveryFormatReportsAFailedWrite holds that no format swallows it, wherever
// it happens.
func TestEveryFormatReportsAFailedWrite(t *testing.T) {
	for _, f := range formats {
		size := len(render(t, f.Name, batch(), Options{Show: show()}))
		for _, left := range []int{0, size / 2, size - 1} {
			if err := Write(&failing{left}, f, batch(), Options{Show: show(), Rule: describe}); !errors.Is(err, errFull) {
				t.Errorf("%s, %d of %d bytes taken: Write = %v, want %v", f.Name, left, size, err, errFull)
			}
		}
	}
}
