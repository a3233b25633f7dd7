package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"

	"backpitch/engine/design"
	"backpitch/engine/finding"
	"backpitch/engine/report"
)

// A streamLine is one line of a stream of designs.
type streamLine struct {
	number int
	data   []byte
	over   int64 // bytes of a line over the limit, which is not kept
	err    error // the stream broke off here
}

// lines reads a stream of designs, one a line. Blank lines are skipped but
// counted. A line over the limit is measured and dropped.
func lines(r io.Reader, limit int64) func() (streamLine, bool) {
	in := bufio.NewReaderSize(r, 64<<10)
	number, ended := 0, false
	return func() (streamLine, bool) {
		for !ended {
			number++
			data, size, err := readLine(in, limit)
			if err != nil {
				ended = true
				if !errors.Is(err, io.EOF) {
					return streamLine{number: number, err: err}, true
				}
			}
			if size > limit {
				return streamLine{number: number, over: size}, true
			}
			if len(bytes.TrimSpace(data)) > 0 {
				return streamLine{number: number, data: data}, true
			}
		}
		return streamLine{}, false
	}
}

// readLine returns at most keep bytes of the next line, drops the rest and
// counts all. The end of the line is no part of it.
func readLine(in *bufio.Reader, keep int64) (line []byte, size int64, err error) {
	keep += 2 // room for the end of the line
	for {
		part, err := in.ReadSlice('\n')
		size += int64(len(part))
		if room := keep - int64(len(line)); room > 0 {
			line = append(line, part[:min(int64(len(part)), room)]...)
		}
		if !errors.Is(err, bufio.ErrBufferFull) {
			if size <= keep {
				line = bytes.TrimRight(line, "\r\n")
				size = int64(len(line))
			} else {
				size -= int64(len(part) - len(bytes.TrimRight(part, "\r\n")))
			}
			return line, size, err
		}
	}
}

// stream reviews the designs of a stream and prints a review object a line, in
// order. Nothing is read that is not soon written: a reader that stands still
// makes the stream stand still.
func (s *settings) stream(ctx context.Context, r *reviewer, name string) (code int, err error) {
	in, limits := r.stdin, r.eng.Limits()
	if name != stdinName {
		info, err := os.Stat(name)
		switch {
		case err == nil && info.IsDir():
			err = errFolder
		case err == nil && info.Mode().IsRegular():
			var f *os.File
			if f, err = os.Open(name); err == nil {
				defer f.Close()
				in = f
			}
		case err == nil:
			in = &lateFile{name: name}
		}
		if err != nil {
			return 0, usageError("", "reading %s: %s", name, fileReason(err))
		}
	}
	err = writeTo(s.output, s.stdout, func(w io.Writer) error {
		sink := s.formats[0].New(w, s.opts)
		done := 0
		p := pipeline[streamLine, report.Entry]{
			workers: s.jobs,
			window:  2 * s.jobs,
			next:    lines(in, int64(limits.Bytes)),
			work: func(l streamLine) report.Entry {
				if l.err != nil {
					return report.Entry{Line: l.number, Review: finding.Review{File: name, Failure: "reading " + name + ": " + fileReason(l.err)}}
				}
				if l.over > 0 {
					e := report.Entry{Line: l.number, Review: finding.Review{File: name, Problems: []finding.Problem{design.TooLarge(name, "the line", l.over, limits)}}}
					moveDown(&e.Review, l.number-1)
					return e
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

// lateFile is a pipe that is opened when it is read: opening waits for one who
// writes to it, and a run that waits must be open to an interrupt.
type lateFile struct {
	name string
	f    *os.File
}

func (l *lateFile) Read(p []byte) (int, error) {
	if l.f == nil {
		f, err := os.Open(l.name)
		if err != nil {
			return 0, err
		}
		l.f = f
	}
	n, err := l.f.Read(p)
	if err != nil {
		l.f.Close()
	}
	return n, err
}

func streamInterrupted(done int, more string) error {
	text := fmt.Sprintf("interrupted after %d designs of the stream", done)
	if more != "" {
		text += "; " + more
	}
	return &exitError{code: exitNotChecked, text: text}
}
