package policy

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"io"
	"os"
	"runtime/debug"
	"runtime/metrics"
	"time"

	"backpitch/engine/facts"
	"backpitch/engine/profile"
	"backpitch/engine/quantity"
)

// Exit codes of a process apart.
const (
	childDone     = 0
	childBroken   = 1
	childOverfull = 3 // it found itself over its memory
)

// Serve judges for another process: it reads requests, a line each, and writes
// answers. It ends the process when the requests end, whatever is going on, and
// when its memory is used up.
func Serve(in io.Reader, out io.Writer) int {
	s := &server{out: json.NewEncoder(out)}
	s.out.SetEscapeHTML(false)
	requests := make(chan request)
	go func() {
		d := json.NewDecoder(bufio.NewReaderSize(in, 1<<16))
		for {
			var r request
			if err := d.Decode(&r); err != nil {
				if err == io.EOF {
					os.Exit(childDone)
				}
				os.Exit(childBroken)
			}
			requests <- r
		}
	}()
	for r := range requests {
		if err := s.serve(r); err != nil {
			return childBroken
		}
	}
	return childDone
}

type server struct {
	out   *json.Encoder
	judge *watched
	paths map[string][]string // facts to send along, by rule
}

func (s *server) serve(r request) error {
	ctx := context.Background()
	switch {
	case r.Open != nil && r.Alone:
		return s.openAlone(ctx, r.Open)
	case r.Open != nil:
		return s.open(ctx, r.Open)
	case r.Judge != nil && s.judge != nil && r.Alone:
		return s.fail(s.judge.name(ctx, valueOf(r.Judge)))
	case r.Judge != nil && s.judge != nil:
		return s.review(ctx, r.Judge)
	}
	return errors.New("a request that asks for nothing")
}

func (s *server) fail(err error) error {
	return s.out.Encode(answer{Errors: wireErrors(err), Done: true})
}

func (s *server) tell(at *Error) {
	w := toWire(at)
	// A pipe that is gone shows at the answer, too.
	_ = s.out.Encode(answer{At: &w})
}

func (s *server) open(ctx context.Context, o *opening) error {
	if err := limitMemory(o.Memory); err != nil {
		return s.fail(err)
	}
	p, err := profile.Load(o.Files, o.Profile)
	if err != nil {
		return s.fail(err)
	}
	prepared, err := Prepare(ctx, o.Files, p)
	if err != nil {
		return s.fail(err)
	}
	s.judge = &watched{Prepared: prepared, time: o.Time, tell: s.tell}
	s.paths = map[string][]string{}
	a := answer{Rules: prepared.Rules(), Kinds: map[string]map[string]quantity.Kind{}, Done: true}
	for _, r := range a.Rules {
		s.paths[r.ID] = named(r)
		a.Kinds[r.ID] = map[string]quantity.Kind{}
		for _, path := range s.paths[r.ID] {
			a.Kinds[r.ID][path] = prepared.FactKind(r.ID, path)
		}
	}
	return s.out.Encode(a)
}

// openAlone compiles the rules one by one, to find the one that cannot be.
func (s *server) openAlone(ctx context.Context, o *opening) error {
	if err := limitMemory(o.Memory); err != nil {
		return s.fail(err)
	}
	p, err := profile.Load(o.Files, o.Profile)
	if err != nil {
		return s.fail(err)
	}
	files, err := ruleFiles(o.Files, p.Chain)
	if err != nil {
		return s.fail(err)
	}
	for _, f := range files {
		s.tell(&Error{Rule: f.id, File: f.file})
		if _, err := prepareSome(ctx, o.Files, p, []string{f.id}); err != nil {
			return s.fail(err)
		}
	}
	return s.out.Encode(answer{Done: true})
}

func (s *server) review(ctx context.Context, f *facts.Facts) error {
	list, err := s.judge.Judge(ctx, f)
	if err != nil {
		return s.fail(err)
	}
	a := answer{Verdicts: make([]wireVerdict, len(list)), Done: true}
	for i := range list {
		a.Verdicts[i] = list[i].wire(s.paths[list[i].Rule])
	}
	return s.out.Encode(a)
}

// limitMemory bounds the process: the system refuses it more where it can, and
// it ends itself where it sees that it has more.
func limitMemory(bytes int64) error {
	if bytes <= 0 {
		return nil
	}
	debug.SetMemoryLimit(bytes / 4 * 3)
	debug.SetMaxStack(int(min(bytes/4, 256<<20)))
	if err := limitAddresses(bytes); err != nil {
		return err
	}
	go func() {
		held := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}, {Name: "/memory/classes/heap/stacks:bytes"}}
		for range time.Tick(20 * time.Millisecond) {
			metrics.Read(held)
			if held[0].Value.Uint64()+held[1].Value.Uint64() > uint64(bytes) {
				os.Exit(childOverfull)
			}
		}
	}()
	return nil
}
