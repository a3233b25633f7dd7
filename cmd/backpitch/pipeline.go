package main

import (
	"context"
	"sync"
)

// A pipeline works on items on several goroutines and hands the results over
// in the order of the items, whatever the number of goroutines.
type pipeline[I, R any] struct {
	workers int
	// window is how many items are begun and not yet handed over, so that
	// neither a slow item nor a slow reader lets memory grow.
	window int
	next   func() (I, bool) // may block
	work   func(I) R        // on any goroutine
	take   func(R) error    // on the caller's goroutine
	idle   func() error     // called before the caller's goroutine has to wait; may be nil

	mu      sync.Mutex
	calm    sync.Cond // busy or stopped changed
	busy    int       // items being worked on
	stopped bool      // no more may be begun
}

type job[I, R any] struct {
	item I
	done chan R
}

// run ends when next has no more items, when take or idle fails, or when ctx
// is done; results that were not handed over by then are dropped. No work goes
// on when it returns, but next may still block.
func (p *pipeline[I, R]) run(ctx context.Context) error {
	ctx, cancel := context.WithCancel(ctx)
	p.calm.L = &p.mu
	defer p.stop()
	defer cancel()

	jobs := make(chan job[I, R])
	turns := make(chan chan R, max(p.window-1, 1))
	go p.deal(ctx, jobs, turns)
	for range p.workers {
		go func() {
			for j := range jobs {
				j.done <- p.work(j.item)
				p.finish()
			}
		}()
	}
	for {
		turn, ok, err := await(ctx, turns, p.idle)
		if err != nil || !ok {
			return err
		}
		result, _, err := await(ctx, turn, p.idle)
		if err != nil {
			return err
		}
		if err := p.take(result); err != nil {
			return err
		}
	}
}

// deal gives each item to a worker and its turn to the caller's goroutine.
func (p *pipeline[I, R]) deal(ctx context.Context, jobs chan<- job[I, R], turns chan<- chan R) {
	defer close(turns)
	defer close(jobs)
	for {
		item, ok := p.next()
		if !ok || !p.begin() {
			return
		}
		j := job[I, R]{item, make(chan R, 1)}
		select {
		case turns <- j.done:
			jobs <- j
		case <-ctx.Done():
			p.finish()
			return
		}
	}
}

// await receives from c; idle is called if that has to wait.
func await[T any](ctx context.Context, c <-chan T, idle func() error) (v T, ok bool, err error) {
	if ctx.Err() != nil {
		return v, false, ctx.Err()
	}
	select {
	case v, ok = <-c:
		return v, ok, nil
	default:
	}
	if idle != nil {
		if err := idle(); err != nil {
			return v, false, err
		}
	}
	select {
	case v, ok = <-c:
		return v, ok, nil
	case <-ctx.Done():
		return v, false, ctx.Err()
	}
}

func (p *pipeline[I, R]) begin() bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.stopped {
		return false
	}
	p.busy++
	return true
}

func (p *pipeline[I, R]) finish() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.busy--
	p.calm.Broadcast()
}

func (p *pipeline[I, R]) stop() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.stopped = true
	for p.busy > 0 {
		p.calm.Wait()
	}
}
