package main

import (
	"context"
	"errors"
	"slices"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"
)

// counter yields 0, 1, 2, … n-1.
func counter(n int) func() (int, bool) {
	i := -1
	return func() (int, bool) {
		i++
		return i, i < n
	}
}

func TestPipelineKeepsTheOrder(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		for _, workers := range []int{1, 2, 7} {
			var got []int
			p := pipeline[int, int]{
				workers: workers, window: 10, next: counter(1000),
				work: func(i int) int {
					time.Sleep(time.Duration((i*7919)%13) * time.Millisecond) // the clock of the bubble
					return i
				},
				take: func(i int) error { got = append(got, i); return nil },
			}
			if err := p.run(t.Context()); err != nil {
				t.Fatal(err)
			}
			want := make([]int, 1000)
			for i := range want {
				want[i] = i
			}
			if !slices.Equal(got, want) {
				t.Errorf("%d workers: results out of order or lost: %d of 1000", workers, len(got))
			}
		}
	})
}

// TestPipelineIsBounded holds that a reader that never takes anything stops
// the workers.
func TestPipelineIsBounded(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		ctx, cancel := context.WithCancel(t.Context())
		var begun atomic.Int64
		p := pipeline[int, int]{
			workers: 3, window: 8, next: counter(1000),
			work: func(i int) int { begun.Add(1); return i },
			take: func(int) error { <-ctx.Done(); return ctx.Err() },
		}
		done := make(chan error)
		go func() { done <- p.run(ctx) }()
		synctest.Wait()
		if n := begun.Load(); n < 3 || n > 9 {
			t.Errorf("%d items were begun while the reader stood still; the window is 8", n)
		}
		cancel()
		if err := <-done; !errors.Is(err, context.Canceled) {
			t.Errorf("run = %v, want that it was cancelled", err)
		}
	})
}

// TestPipelineStops holds that an error ends the run with no work going on,
// though the source of items blocks for ever.
func TestPipelineStops(t *testing.T) {
	broken := errors.New("the reader has gone")
	var working atomic.Int64
	release := make(chan struct{})
	defer close(release)
	i := 0
	p := pipeline[int, int]{
		workers: 4, window: 8,
		next: func() (int, bool) {
			if i++; i > 20 {
				<-release
				return 0, false
			}
			return i, true
		},
		work: func(i int) int {
			working.Add(1)
			defer working.Add(-1)
			time.Sleep(time.Millisecond)
			return i
		},
		take: func(i int) error {
			if i == 10 {
				return broken
			}
			return nil
		},
	}
	if err := p.run(context.Background()); err != broken {
		t.Errorf("run = %v, want %v", err, broken)
	}
	if n := working.Load(); n != 0 {
		t.Errorf("%d items are still being worked on", n)
	}
}

// TestPipelineFlushesBeforeItWaits holds that one who sends a design and waits
// for its answer gets it.
func TestPipelineFlushesBeforeItWaits(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		asked := make(chan int)
		var held, sent int
		p := pipeline[int, int]{
			workers: 2, window: 4,
			next: func() (int, bool) { i, ok := <-asked; return i, ok },
			work: func(i int) int { return i },
			take: func(i int) error { held = i; return nil },
			idle: func() error { sent = held; return nil },
		}
		done := make(chan error)
		go func() { done <- p.run(t.Context()) }()
		for i := 1; i < 4; i++ {
			asked <- i
			synctest.Wait()
			if sent != i {
				t.Errorf("question %d is not answered before the next comes: %d", i, sent)
			}
		}
		close(asked)
		if err := <-done; err != nil {
			t.Fatal(err)
		}
	})
}
