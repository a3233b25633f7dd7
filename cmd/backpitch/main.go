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
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	code := run(ctx, os.Args, os.Stdin, os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}
