// Command backpitch checks proposed building-drainage designs.
//
// Flags come in, the engine is called, a report goes out, an exit code is
// returned. Nothing about pipes or codes is decided here.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	// A reader that closes the pipe is an error of the write, not a death.
	signal.Ignore(syscall.SIGPIPE)
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop) // a second signal ends the process at once
	code := run(ctx, os.Args, os.Stdin, os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}
