package main

import (
	"io"
	"os"
	"time"

	"github.com/mattn/go-isatty"
	"github.com/schollz/progressbar/v3"
)

// progress shows on a terminal how far a batch is. A nil bar shows nothing.
type progress struct{ bar *progressbar.ProgressBar }

// progress makes the bar of a run: only for several designs, only where
// standard error is a terminal, and not into the lines of a report that goes to
// that terminal meanwhile.
func (s *settings) progress(designs int, reportMeanwhile bool) *progress {
	if designs < 2 || !isTerminal(s.stderr) || reportMeanwhile && toStdout(s.output) && isTerminal(s.stdout) {
		return &progress{}
	}
	return &progress{newBar(s.stderr, designs)}
}

func newBar(w io.Writer, designs int) *progressbar.ProgressBar {
	return progressbar.NewOptions(designs,
		progressbar.OptionSetWriter(w),
		progressbar.OptionSetDescription("reviewing"),
		progressbar.OptionShowCount(),
		progressbar.OptionSetPredictTime(true),
		progressbar.OptionThrottle(100*time.Millisecond),
		progressbar.OptionClearOnFinish(),
		progressbar.OptionFullWidth(),
	)
}

func (p *progress) step() {
	if p.bar != nil {
		p.bar.Add(1) //nolint:errcheck // a bar that cannot be drawn stops nothing
	}
}

// clear takes the bar off the screen, so that what follows stands alone.
func (p *progress) clear() {
	if p.bar != nil {
		p.bar.Clear() //nolint:errcheck
	}
}

// isTerminal is true for a terminal, not for /dev/null or a pipe.
func isTerminal(w any) bool {
	if s, ok := w.(*stdoutWriter); ok {
		w = s.w
	}
	f, ok := w.(*os.File)
	return ok && isatty.IsTerminal(f.Fd())
}

// wantsColour is true for a terminal, unless NO_COLOR is set (no-color.org).
func wantsColour(w io.Writer) bool {
	return os.Getenv("NO_COLOR") == "" && isTerminal(w)
}
