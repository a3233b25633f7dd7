package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"

	"backpitch/engine/finding"
	"backpitch/engine/report"
)

// A streamLine is one line of a stream of designs.
type streamLine struct {
	number int
	data   []byte
	err    error // the stream broke off here
}

// lines reads a stream of designs, one a line. Blank lines are skipped but
// counted. Of a line over the limit, limit+1 bytes are kept: enough for the
// reader of designs to see that it is too long.
func lines(r io.Reader, limit int64) func() (streamLine, bool) {
	in := bufio.NewReaderSize(r, 64<<10)
	number, ended := 0, false
	return func() (streamLine, bool) {
		for !ended {
			number++
			data, err := readLine(in, limit+1)
			if err != nil {
				ended = true
				if !errors.Is(err, io.EOF) {
					return streamLine{number, nil, err}, true
				}
			}
			if len(bytes.TrimSpace(data)) > 0 {
				return streamLine{number, data, nil}, true
			}
		}
		return streamLine{}, false
	}
}

// readLine returns at most keep bytes of the next line and drops the rest.
func readLine(in *bufio.Reader, keep int64) ([]byte, error) {
	var line []byte
	for {
		part, err := in.ReadSlice('\n')
		if room := keep - int64(len(line)); room > 0 {
			line = append(line, part[:min(int64(len(part)), room)]...)
		}
		if !errors.Is(err, bufio.ErrBufferFull) {
			return bytes.TrimRight(line, "\r\n"), err
		}
	}
}

// stream reviews the designs of a stream and prints a review object a line, in
// order. Nothing is read that is not soon written: a reader that stands still
// makes the stream stand still.
func (s *settings) stream(ctx context.Context, r *reviewer, name string) (code int, err error) {
	in := r.stdin
	if name != stdinName {
		f, err := os.Open(name)
		if err != nil {
			return 0, usageError("", "reading %s: %s", name, fileReason(err))
		}
		defer f.Close()
		in = f
	}
	err = writeTo(s.output, s.stdout, func(w io.Writer) error {
		sink := s.formats[0].New(w, s.opts)
		done := 0
		p := pipeline[streamLine, report.Entry]{
			workers: s.jobs,
			window:  2 * s.jobs,
			next:    lines(in, r.eng.MaxBytes()),
			work: func(l streamLine) report.Entry {
				if l.err != nil {
					return report.Entry{Line: l.number, Review: finding.Review{File: name, Failure: "reading " + name + ": " + fileReason(l.err)}}
				}
				return r.review(ctx, name, l.number, l.data)
			},
			take: func(e report.Entry) error {
				code = max(code, exitCode(e.Review, s.threshold))
				done++
				return sink.Review(e)
			},
		}
		if f, ok := sink.(interface{ Flush() error }); ok {
			p.idle = f.Flush // one who waits for an answer gets it
		}
		err := p.run(ctx)
		if errors.Is(err, context.Canceled) {
			if !toStdout(s.output) {
				return streamInterrupted(done, s.output+" is left as it was")
			}
			if err := sink.Close(); err != nil {
				return err
			}
			return streamInterrupted(done, "")
		}
		if err != nil {
			return err
		}
		return sink.Close()
	})
	return code, err
}

func streamInterrupted(done int, more string) error {
	text := fmt.Sprintf("interrupted after %d designs of the stream", done)
	if more != "" {
		text += "; " + more
	}
	return &exitError{code: exitNotChecked, text: text}
}
