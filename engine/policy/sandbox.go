package policy

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os/exec"
	"time"

	"github.com/open-policy-agent/opa/v1/ast"

	"backpitch/engine/facts"
	"backpitch/engine/limit"
	"backpitch/engine/profile"
	"backpitch/engine/quantity"
)

// Judge is what judges facts under one profile, in this process or apart from
// it. It is safe for many goroutines.
type Judge interface {
	Judge(ctx context.Context, f *facts.Facts) ([]Verdict, error)
	Rules() []profile.Rule
	FactKind(rule, path string) quantity.Kind
	Close() error
}

// Guard bounds what rules may take.
type Guard struct {
	Time   time.Duration // for one design; 0 for no limit of its own
	Memory int64         // bytes, for each process apart
	// Child makes the command of a process that calls [Serve]; nil judges in
	// this process, for rules that are trusted.
	Child func() (*exec.Cmd, error)
}

// Guarded prepares the rules of a profile to be judged within bounds. Rules
// that are not trusted are neither parsed nor run in this process.
func Guarded(ctx context.Context, fsys fs.FS, p *profile.Profile, g Guard) (Judge, error) {
	if g.Child != nil {
		return startApart(ctx, fsys, p, g)
	}
	w := &watched{time: g.Time, tell: func(*Error) {}, sources: fsys}
	var err error
	if w.Prepared, err = prepareCompiled(ctx, fsys, p); w.Prepared == nil && err == nil {
		w.Prepared, err = Prepare(ctx, fsys, p)
	}
	if err != nil {
		return nil, err
	}
	return w, nil
}

// watched judges in this process; what does not end in time is named.
type watched struct {
	*Prepared
	time    time.Duration
	tell    func(*Error) // called with each rule before it is tried alone
	sources fs.FS        // what tells more of an error, where the rules came compiled
}

func (w *watched) Close() error { return nil }

// Judge implements [Judge].
func (w *watched) Judge(ctx context.Context, f *facts.Facts) ([]Verdict, error) {
	input := valueOf(f)
	bounded, stop := within(ctx, w.time)
	list, err := w.judge(bounded, input)
	stop()
	late := errors.Is(err, context.DeadlineExceeded)
	if err == nil || ctx.Err() != nil || late && w.time == 0 {
		return list, err
	}
	if w.compiled {
		// Only the sources know places.
		prepared, err := Prepare(ctx, w.sources, w.profile)
		if err != nil {
			return nil, err
		}
		w = &watched{Prepared: prepared, time: w.time, tell: w.tell}
		if !late {
			return w.Judge(ctx, f)
		}
	}
	if !late {
		return nil, err
	}
	return nil, w.name(ctx, input)
}

func within(ctx context.Context, d time.Duration) (context.Context, context.CancelFunc) {
	if d == 0 {
		return context.WithCancel(ctx)
	}
	return context.WithTimeout(ctx, d)
}

// share is the part of a design's time that one rule may take when it is tried
// alone; a sound rule takes a thousandth.
func share(limit time.Duration) time.Duration { return limit / 2 }

// name tries the rules one by one and names the one that does not end. It
// returns an error in any case.
func (w *watched) name(ctx context.Context, input ast.Value) error {
	slowest, most := "", time.Duration(0)
	for _, id := range w.ids {
		at := w.place(id)
		w.tell(at)
		began := time.Now()
		err := w.alone(ctx, id, input)
		switch took := time.Since(began); {
		case ctx.Err() != nil:
			return stopped(ctx.Err())
		case errors.Is(err, context.DeadlineExceeded):
			return endless(at, w.time)
		case took > most:
			slowest, most = id, took
		}
	}
	return together(slowest, w.time)
}

func (w *watched) alone(ctx context.Context, id string, input ast.Value) error {
	bounded, stop := within(ctx, share(w.time))
	defer stop()
	run, end, err := w.begin(bounded, input)
	if err == nil {
		_, err = run.row(bounded, w.modules[id])
		end()
	}
	if bounded.Err() != nil {
		return bounded.Err()
	}
	return err
}

// place is where a rule's verdict stands, as an error that says nothing yet.
func (out *Prepared) place(id string) *Error {
	e := &Error{Rule: id}
	m := out.modules[id]
	if m == nil {
		return e
	}
	e.File = m.File
	for _, r := range m.parsed.Rules {
		if word(r.Head.Ref()[0].Value) == "verdict" {
			e.Line, e.Col = r.Location.Row, r.Location.Col
			break
		}
	}
	return e
}

var (
	loopHint = "look for a rule that pairs elements with each other or builds values from values; " + limit.Time.Hint()
	fillHint = "look for a rule that builds values from values; " + limit.Memory.Hint()
)

// endless names a rule that was tried alone, with its share of the limit.
func endless(at *Error, most time.Duration) *Error {
	return &Error{Rule: at.Rule, File: at.File, Line: at.Line, Col: at.Col, cause: context.DeadlineExceeded, Hint: loopHint,
		Message: fmt.Sprintf("the rule %q does not end: it was stopped after %s; %s is %s", at.Rule, share(most), limit.Time.Name, most)}
}

// together names no rule: each ended alone.
func together(slowest string, most time.Duration) *Error {
	return &Error{cause: context.DeadlineExceeded, Hint: loopHint,
		Message: fmt.Sprintf("the rules together do not end within %s, which is %s; the slowest is %q", most, limit.Time.Name, slowest)}
}

func tooMuch(at *Error, memory int64) *Error {
	e := &Error{Rule: at.Rule, File: at.File, Line: at.Line, Col: at.Col, cause: ErrMemory, Hint: fillHint}
	e.Message = fmt.Sprintf("the rules together need more than %d MB of memory, which is %s", memory>>20, limit.Memory.Name)
	if at.Rule != "" {
		e.Message = fmt.Sprintf("the rule %q needs more than %d MB of memory, which is %s", at.Rule, memory>>20, limit.Memory.Name)
	}
	return e
}

// ErrMemory is the cause where rules needed more memory than they may have.
var ErrMemory = errors.New("out of memory")
