// Command memory watches the memory of one long stream of designs: .ci/soak
// runs it at the top of the repository. It reads /proc, so it needs Linux.
package main

import (
	"flag"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"syscall"
	"time"
)

func main() {
	s := &soak{}
	flag.IntVar(&s.designs, "designs", 100_000, "designs in the stream")
	flag.IntVar(&s.elements, "elements", 20, "elements of a design, in the mean")
	flag.IntVar(&s.jobs, "jobs", 2, "jobs of backpitch")
	flag.StringVar(&s.profile, "profile", "ipc-2021", "profile of the reviews")
	flag.StringVar(&s.program, "program", "", "a backpitch that is built already")
	flag.DurationVar(&s.every, "sample", 50*time.Millisecond, "time between two looks at the memory")
	flag.Parse()
	if flag.NArg() > 0 || s.designs < 100 || s.elements < 1 || s.jobs < 1 {
		flag.Usage()
		os.Exit(2)
	}
	if err := run(s); err != nil {
		fmt.Fprintln(os.Stderr, "FAILED:", err)
		os.Exit(1)
	}
}

func run(s *soak) error {
	if s.program == "" {
		work, err := os.MkdirTemp("", "backpitch-soak-")
		if err != nil {
			return err
		}
		defer os.RemoveAll(work) //nolint:errcheck // a temporary folder
		s.program = filepath.Join(work, "backpitch")
		if out, err := exec.Command("go", "build", "-o", s.program, "./cmd/backpitch").CombinedOutput(); err != nil {
			return fmt.Errorf("go build: %w\n%s", err, out)
		}
	}
	stop := make(chan os.Signal, 1) // the stream ends, and what there is is printed
	signal.Notify(stop, os.Interrupt, syscall.SIGTERM)
	if err := s.run(stop); err != nil {
		return err
	}
	return s.judge()
}
