package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"time"

	"backpitch/engine"
	"backpitch/engine/approve"
	"backpitch/engine/design"
	"backpitch/engine/finding"
	"backpitch/engine/report"
)

// A reviewer judges submissions for one command line. It is safe for many
// goroutines.
type reviewer struct {
	eng     *engine.Engine
	desk    *approve.Desk // nil where nobody answers for a failure
	profile string        // "" for the design's own
	stdin   io.Reader
	times   bool
	limit   time.Duration // when the review of one design is given up
	detail  bool          // a format prints more of a design than its findings
	brief   bool          // no format prints what passes
}

// read returns the bytes of an input, or the review that says why there are none.
func (r *reviewer) read(ctx context.Context, in input) ([]byte, *report.Entry) {
	limits := r.eng.Limits()
	data, err := in.read(ctx, r.stdin, int64(limits.Bytes))
	if large, ok := errors.AsType[*tooLarge](err); ok {
		return nil, &report.Entry{Review: finding.Review{File: in.name, Problems: []finding.Problem{design.TooLarge(in.name, "the file", large.found, limits)}}}
	}
	if err != nil {
		return nil, &report.Entry{Review: finding.Review{File: in.name, Failure: "reading " + in.name + ": " + fileReason(err)}}
	}
	return data, nil
}

// review judges one design. A fault of the program in one design is that
// design's failure and stops no other.
func (r *reviewer) review(ctx context.Context, name string, line int, data []byte) (e report.Entry) {
	began := time.Now()
	defer func() {
		if fault := recover(); fault != nil {
			e = report.Entry{Line: line, Review: finding.Review{File: name,
				Failure: fmt.Sprintf("backpitch has a fault: %v", fault), Hint: "report it together with this design"}}
		}
	}()
	ctx, stop := context.WithTimeout(ctx, r.limit)
	defer stop()
	e = r.judge(ctx, engine.Submission{Name: name, Data: data, Brief: r.brief})
	e.Line = line
	if line > 1 {
		moveDown(&e.Review, line-1)
	}
	if r.desk != nil {
		e.Review = r.desk.Mark(e.Review)
	}
	if r.times {
		e.Took = time.Since(began)
	}
	return e
}

func (r *reviewer) judge(ctx context.Context, s engine.Submission) report.Entry {
	if !r.detail {
		return report.Entry{Review: r.eng.Review(ctx, s, r.profile)}
	}
	w := r.eng.Work(ctx, s, r.profile)
	return report.Entry{Review: w.Review, Detail: detailOf(w)}
}

// moveDown gives places in a design that stands on one line of a stream the
// line that they have in the stream.
func moveDown(review *finding.Review, lines int) {
	for i := range review.Findings {
		if p := &review.Findings[i].Place; p.Line > 0 {
			p.Line += lines
		}
	}
	for i := range review.Problems {
		if p := &review.Problems[i].Place; p.Line > 0 {
			p.Line += lines
		}
	}
}

// each reviews every input on the given number of goroutines and hands the
// reviews to take in the order of the inputs.
func (r *reviewer) each(ctx context.Context, inputs []input, jobs int, take func(report.Entry) error) error {
	p := pipeline[input, report.Entry]{
		workers: jobs,
		window:  2 * jobs,
		next:    inTurn(inputs),
		work: func(in input) report.Entry {
			data, failed := r.read(ctx, in)
			if failed != nil {
				return *failed
			}
			return r.review(ctx, in.name, 0, data)
		},
		take: take,
	}
	return p.run(ctx)
}

func inTurn(inputs []input) func() (input, bool) {
	i := -1
	return func() (input, bool) {
		if i++; i < len(inputs) {
			return inputs[i], true
		}
		return input{}, false
	}
}

// wholeReport prints all reviews in one report.
func (s *settings) wholeReport(ctx context.Context, r *reviewer, inputs []input) (code int, err error) {
	bar := s.progress(len(inputs), true)
	defer bar.clear()
	err = writeTo(s.output, s.stdout, func(w io.Writer) error {
		sink := s.formats[0].New(w, s.opts)
		done := 0
		err := r.each(ctx, inputs, s.jobs, func(e report.Entry) error {
			code = max(code, exitCode(e.Review, s.threshold))
			done++
			bar.step()
			return sink.Review(e)
		})
		switch {
		case err == nil:
			err := sink.Close()
			s.left = report.LeftOut(sink)
			return err
		case !errors.Is(err, context.Canceled):
			return err
		case !toStdout(s.output):
			return interrupted(done, len(inputs), s.output+" is left as it was")
		}
		// What is printed is finished, so that it can be read, and says so.
		if err := sink.Review(unreviewed(inputs, done)); err != nil {
			return err
		}
		if err := sink.Close(); err != nil {
			return err
		}
		return interrupted(done, len(inputs), "")
	})
	return code, err
}

// unreviewed stands for all that an interrupted run did not come to.
func unreviewed(inputs []input, done int) report.Entry {
	left := len(inputs) - done
	text := "the run was interrupted before this design was reviewed"
	if left > 1 {
		text = fmt.Sprintf("the run was interrupted: this design and %d more were not reviewed", left-1)
	}
	return report.Entry{Review: finding.Review{File: inputs[min(done, len(inputs)-1)].name, Failure: text}}
}

func interrupted(done, of int, more string) error {
	text := fmt.Sprintf("interrupted: %d of %d designs were reviewed", done, of)
	if more != "" {
		text += "; " + more
	}
	return &exitError{code: exitNotChecked, text: text}
}
