// Command backpitch checks proposed building-drainage designs.
//
// Flags come in, the engine is called, a report goes out, an exit code is
// returned. Nothing about pipes or codes is decided here.
package main

import (
	"context"
	"fmt"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"
)

func main() {
	collectLessOften()
	// A reader that closes the pipe is an error of the write, not a death.
	signal.Ignore(syscall.SIGPIPE)
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	go endAtOnce()
	code := run(ctx, os.Args, os.Stdin, os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}

// endAtOnce ends the process at the second signal; the first one has it end
// when what it is at is whole.
func endAtOnce() {
	signals := make(chan os.Signal, 2)
	signal.Notify(signals, os.Interrupt, syscall.SIGTERM)
	<-signals
	<-signals
	unfinished.remove()
	fmt.Fprintln(os.Stderr, "backpitch: interrupted twice, and ended at once")
	os.Exit(exitNotChecked)
}

// collectLessOften lets the heap grow to 32 MB before the collector starts, and to
// nine times what is in use after that, unless GOGC says what is wanted: a review
// of one design ends before, and a batch, which has some 7 MB in use, takes a
// third of the time less. From 1 GB on it collects as often as it must. A process
// that judges apart keeps what its memory is bounded for.
func collectLessOften() {
	if os.Getenv("GOGC") != "" || isChild(os.Args) {
		return
	}
	debug.SetGCPercent(800)
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(1 << 30)
	}
}
