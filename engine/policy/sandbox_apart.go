package policy

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os/exec"
	"slices"
	"strings"
	"sync"
	"time"

	"backpitch/engine/facts"
	"backpitch/engine/limit"
	"backpitch/engine/profile"
	"backpitch/engine/quantity"
)

const (
	// grace is what a process gets beyond the time of its rules to say that
	// they did not end, before it is killed.
	grace = 2 * time.Second
	// openingTime is what compiling the rules of a profile may take at least,
	// however little a design may take; it takes a tenth of a second.
	openingTime = 10 * time.Second
	// longest is the largest answer that is read, in bytes.
	longest = 64 << 20
	// errorText is how much is kept of what a process says as it dies.
	errorText = 16 << 10
)

// apart judges in processes of their own. One that dies or has to be killed is
// replaced for the next design.
type apart struct {
	guard Guard
	open  opening
	rules []profile.Rule
	kinds map[string]map[string]quantity.Kind

	mu     sync.Mutex
	idle   []*child
	closed bool
}

func startApart(ctx context.Context, fsys fs.FS, p *profile.Profile, g Guard) (*apart, error) {
	files, err := Sources(fsys, p, false)
	if err != nil {
		return nil, err
	}
	a := &apart{guard: g, open: opening{files, p.ID, g.Time, g.Memory}}
	c, first, err := a.start(ctx)
	if err != nil {
		return nil, err
	}
	a.rules, a.kinds = first.Rules, first.Kinds
	a.put(c)
	return a, nil
}

// Rules implements [Judge].
func (a *apart) Rules() []profile.Rule { return slices.Clone(a.rules) }

// FactKind implements [Judge], for the facts that a rule's texts name.
func (a *apart) FactKind(rule, path string) quantity.Kind { return a.kinds[rule][path] }

// Close ends the processes that wait for work.
func (a *apart) Close() error {
	a.mu.Lock()
	idle := a.idle
	a.idle, a.closed = nil, true
	a.mu.Unlock()
	for _, c := range idle {
		c.kill()
	}
	return nil
}

// hard is when a process is killed that was to stop by itself.
func (a *apart) hard(limit time.Duration) time.Duration {
	if limit == 0 {
		return 0
	}
	return limit + grace
}

// start makes a process that is ready to judge.
func (a *apart) start(ctx context.Context) (*child, answer, error) {
	c, err := startChild(a.guard)
	if err != nil {
		return nil, answer{}, err
	}
	first, err := c.ask(ctx, request{Open: &a.open}, a.opening(), 0, nil)
	if err == nil {
		if err = first.err(); err != nil {
			c.kill()
			return nil, first, err
		}
		return c, first, nil
	}
	c.kill()
	if ctx.Err() != nil {
		return nil, first, stopped(ctx.Err())
	}
	return nil, first, a.nameAtOpening(ctx, err)
}

// nameAtOpening finds the rule that cannot be compiled within the limits.
func (a *apart) nameAtOpening(ctx context.Context, cause error) error {
	c, err := startChild(a.guard)
	if err != nil {
		return err
	}
	defer c.kill()
	at := &Error{}
	ans, err := c.ask(ctx, request{Open: &a.open, Alone: true}, a.opening(), a.opening(), at)
	switch {
	case ctx.Err() != nil:
		return stopped(ctx.Err())
	case err == nil && ans.err() != nil:
		return ans.err()
	case err == nil:
		at, err = &Error{}, cause
	}
	if errors.Is(err, errKilled) {
		what := "the rules cannot"
		if at.Rule != "" {
			what = fmt.Sprintf("the rule %q cannot", at.Rule)
		}
		return &Error{Rule: at.Rule, File: at.File, Message: fmt.Sprintf("%s be compiled within %s", what, a.opening()), Hint: limit.Time.Hint(), cause: context.DeadlineExceeded}
	}
	return a.blamed(at, err)
}

// opening is when a process is killed that does not come to judge.
func (a *apart) opening() time.Duration {
	if a.guard.Time == 0 {
		return 0
	}
	return max(a.guard.Time, openingTime)
}

// blamed says what a rule did to the process it was in.
func (a *apart) blamed(at *Error, cause error) error {
	switch {
	case errors.Is(cause, ErrMemory):
		return tooMuch(at, a.guard.Memory)
	case errors.Is(cause, errKilled) && at.Rule == "":
		return &Error{Message: fmt.Sprintf("the rules together do not end within %s, which is %s", a.guard.Time, limit.Time.Name), Hint: loopHint, cause: context.DeadlineExceeded}
	case errors.Is(cause, errKilled):
		return endless(at, a.guard.Time)
	}
	return &Error{Rule: at.Rule, File: at.File, Line: at.Line, Col: at.Col, Message: "the process that judges ended: " + cause.Error()}
}

func (a *apart) take(ctx context.Context) (*child, error) {
	a.mu.Lock()
	if n := len(a.idle); n > 0 {
		c := a.idle[n-1]
		a.idle = a.idle[:n-1]
		a.mu.Unlock()
		return c, nil
	}
	a.mu.Unlock()
	c, _, err := a.start(ctx)
	return c, err
}

func (a *apart) put(c *child) {
	a.mu.Lock()
	defer a.mu.Unlock()
	if a.closed {
		c.kill()
		return
	}
	a.idle = append(a.idle, c)
}

// Judge implements [Judge].
func (a *apart) Judge(ctx context.Context, f *facts.Facts) ([]Verdict, error) {
	c, err := a.take(ctx)
	if err != nil {
		return nil, err
	}
	at := &Error{}
	ans, err := c.ask(ctx, request{Judge: f}, a.hard(a.guard.Time), a.hard(share(a.guard.Time)), at)
	if err != nil {
		c.kill()
		switch {
		case ctx.Err() != nil:
			return nil, stopped(ctx.Err())
		case at.Rule != "": // it was naming the rule itself
			return nil, a.blamed(at, err)
		}
		return nil, a.name(ctx, f, err)
	}
	a.put(c)
	if err := ans.err(); err != nil {
		return nil, err
	}
	list := make([]Verdict, len(ans.Verdicts))
	for i, w := range ans.Verdicts {
		list[i] = w.verdict()
	}
	return list, nil
}

// name has a new process try the rules one by one, after one died of them all.
func (a *apart) name(ctx context.Context, f *facts.Facts, cause error) error {
	c, err := a.take(ctx)
	if err != nil {
		return err
	}
	at := &Error{}
	ans, err := c.ask(ctx, request{Judge: f, Alone: true}, a.hard(a.guard.Time), a.hard(share(a.guard.Time)), at)
	if err != nil {
		c.kill()
		if ctx.Err() != nil {
			return stopped(ctx.Err())
		}
		return a.blamed(at, err)
	}
	a.put(c)
	named, ok := errors.AsType[*Error](ans.err())
	if ok && (named.Rule != "" || !errors.Is(cause, ErrMemory)) {
		return named
	}
	// Alone, no rule did it: what the process died of is said of all.
	return a.blamed(&Error{}, cause)
}

// Stopped says that a time limit ended the rules.
func (e *Error) Stopped() bool { return errors.Is(e.cause, context.DeadlineExceeded) }

var errKilled = errors.New("it did not answer in time and was killed")

// child is one process apart.
type child struct {
	cmd     *exec.Cmd
	in      io.WriteCloser
	answers chan answer // closed when the process is gone
	gone    error       // why, once answers is closed
	says    *tail
}

func startChild(g Guard) (*child, error) {
	cmd, err := g.Child()
	if err != nil {
		return nil, fmt.Errorf("starting a process for the rules: %w", err)
	}
	c := &child{cmd: cmd, answers: make(chan answer), says: &tail{}}
	cmd.Stderr = c.says
	if c.in, err = cmd.StdinPipe(); err != nil {
		return nil, fmt.Errorf("starting a process for the rules: %w", err)
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		return nil, fmt.Errorf("starting a process for the rules: %w", err)
	}
	if err := cmd.Start(); err != nil {
		return nil, fmt.Errorf("starting a process for the rules: %w", err)
	}
	go c.listen(out)
	return c, nil
}

func (c *child) listen(out io.Reader) {
	lines := bufio.NewScanner(out)
	lines.Buffer(nil, longest)
	var broken error
	for broken == nil && lines.Scan() {
		var a answer
		if broken = json.Unmarshal(lines.Bytes(), &a); broken == nil {
			c.answers <- a
		}
	}
	if broken = errors.Join(broken, lines.Err()); broken != nil {
		_ = c.cmd.Process.Kill() // it may be gone already
	}
	c.gone = c.reason(errors.Join(broken, c.cmd.Wait()))
	close(c.answers)
}

// reason tells a process that ran out of memory from any other end.
func (c *child) reason(err error) error {
	text := c.says.String()
	code := c.cmd.ProcessState.ExitCode()
	switch {
	case code == childOverfull, strings.Contains(text, "out of memory"), strings.Contains(text, "cannot allocate"),
		strings.Contains(text, "stack exceeds"), errors.Is(err, bufio.ErrTooLong):
		return ErrMemory
	case err == nil:
		return errors.New("without a word")
	case text != "":
		first, _, _ := strings.Cut(text, "\n")
		return fmt.Errorf("%w: %.200s", err, first)
	}
	return err
}

// ask sends a request and returns the answer that ends it. at takes the rule
// that is being tried; each of them has its own time.
func (c *child) ask(ctx context.Context, r request, hard, each time.Duration, at *Error) (answer, error) {
	line, err := json.Marshal(r)
	if err != nil {
		return answer{}, fmt.Errorf("asking for a judgement: %w", err)
	}
	go c.in.Write(append(line, '\n')) //nolint:errcheck // a process that is gone shows at its answers
	var late <-chan time.Time
	var timer *time.Timer
	if hard > 0 {
		timer = time.NewTimer(hard)
		defer timer.Stop()
		late = timer.C
	}
	for {
		select {
		case a, alive := <-c.answers:
			if !alive {
				return answer{}, c.gone
			}
			if a.Done {
				return a, nil
			}
			if a.At != nil && at != nil {
				*at = *a.At.error()
				if timer != nil {
					timer.Reset(each)
				}
			}
		case <-late:
			return answer{}, errKilled
		case <-ctx.Done():
			return answer{}, ctx.Err()
		}
	}
}

// kill ends the process and waits until it is gone.
func (c *child) kill() {
	_ = c.cmd.Process.Kill() // it may be gone already
	for range c.answers {
	}
	c.in.Close()
}

// tail keeps the beginning of what is written.
type tail struct {
	mu  sync.Mutex
	buf bytes.Buffer
}

func (t *tail) Write(p []byte) (int, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if room := errorText - t.buf.Len(); room > 0 {
		t.buf.Write(p[:min(room, len(p))])
	}
	return len(p), nil
}

func (t *tail) String() string {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.buf.String()
}
