package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"runtime"
	"strconv"
	"sync/atomic"
	"syscall"
	"time"

	"backpitch/testdata/designs/random"
)

// Memory may differ by this much between the first third and the last: the
// collector lets the heap grow to several times what is in use.
const tolerance = 0.15

// warmUp is the part of the run that no third counts: the profile is compiled
// and the heap finds its size.
const warmUp = 0.05

// soak is one run.
type soak struct {
	designs, elements, jobs int
	profile, program        string
	every                   time.Duration

	sent, reviewed, failing atomic.Int64
	bytesIn, bytesOut       atomic.Int64
	seen                    []sample
}

// sample is the resident memory, in bytes, when so many reviews were out.
type sample struct {
	reviewed int64
	resident int64
}

// run starts the program and is done when it has ended.
func (s *soak) run(stop <-chan os.Signal) error {
	cmd := exec.Command(s.program, "review", "--stream", "--profile", s.profile, "--jobs", strconv.Itoa(s.jobs))
	cmd.Stderr = os.Stderr
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true} // an interrupt ends the stream, not the program
	in, err := cmd.StdinPipe()
	if err != nil {
		return err
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		return err
	}
	began := time.Now()
	if err := cmd.Start(); err != nil {
		return err
	}
	fmt.Printf("%d designs of %d elements in the mean, profile %s, %d jobs, %s, process %d\n",
		s.designs, s.elements, s.profile, s.jobs, runtime.Version(), cmd.Process.Pid)
	fmt.Printf("%10s %9s %9s %9s %9s\n", "reviewed", "seconds", "MB now", "MB least", "MB most")
	fed, read, watched := make(chan error, 1), make(chan error, 1), make(chan error, 1)
	ended := make(chan struct{})
	go func() { fed <- s.feed(in, stop) }()
	go func() { watched <- s.watch(cmd.Process.Pid, began, ended) }()
	go func() { read <- s.read(out) }()
	err = <-read // before Wait, which closes the pipe
	if err != nil {
		cmd.Process.Kill() //nolint:errcheck // it may have ended
	}
	close(ended)
	err = errors.Join(err, <-watched)
	waited := cmd.Wait()
	if exit, ok := errors.AsType[*exec.ExitError](waited); ok && exit.ExitCode() == 1 {
		waited = nil // a design fails, which is no fault
	}
	u := cmd.ProcessState
	took := time.Since(began)
	fmt.Printf("%d reviews in %s: %.0f a second, %s user+sys, %d MB in, %d MB out, %d designs with failures\n",
		s.reviewed.Load(), took.Round(time.Second), float64(s.reviewed.Load())/took.Seconds(),
		(u.UserTime() + u.SystemTime()).Round(time.Second), s.bytesIn.Load()>>20, s.bytesOut.Load()>>20, s.failing.Load())
	return errors.Join(err, waited, <-fed)
}

// feed writes the designs, each made when there is room for it.
func (s *soak) feed(in io.WriteCloser, stop <-chan os.Signal) error {
	defer in.Close() //nolint:errcheck // the program says what it did not get
	w := bufio.NewWriter(in)
	var line bytes.Buffer
	for i := range s.designs {
		select {
		case <-stop:
			fmt.Println("stopped")
			return w.Flush()
		default:
		}
		line.Reset()
		// From one element to twice the mean less one, so that sizes differ.
		if err := json.Compact(&line, random.Design(uint64(i), 1+i*7%(2*s.elements-1))); err != nil {
			return err
		}
		line.WriteByte('\n')
		s.bytesIn.Add(int64(line.Len()))
		s.sent.Add(1)
		if _, err := w.Write(line.Bytes()); err != nil {
			return fmt.Errorf("after %d designs: %w", i, err)
		}
	}
	return w.Flush()
}

// review is what is looked at of a line that comes out.
type review struct {
	Line     int64             `json:"line"`
	Failure  string            `json:"failure"`
	Problems []json.RawMessage `json:"problems"`
	Counts   *struct {
		Fail int `json:"fail"`
	} `json:"counts"`
}

// read holds that the reviews come in order, whole and without a problem.
func (s *soak) read(out io.Reader) error {
	r := bufio.NewReaderSize(out, 1<<20)
	var line []byte
	for n := int64(1); ; n++ {
		line = line[:0]
		for {
			part, err := r.ReadSlice('\n')
			line = append(line, part...)
			if err == nil {
				break
			}
			if errors.Is(err, io.EOF) && len(line) == 0 {
				return nil
			}
			if !errors.Is(err, bufio.ErrBufferFull) {
				return fmt.Errorf("review %d: %w", n, err)
			}
		}
		var got review
		if err := json.Unmarshal(line, &got); err != nil {
			return fmt.Errorf("review %d is no JSON: %w", n, err)
		}
		if got.Line != n || got.Failure != "" || len(got.Problems) > 0 || got.Counts == nil {
			return fmt.Errorf("review %d has line %d, failure %q, problems %s", n, got.Line, got.Failure, got.Problems)
		}
		if got.Counts.Fail > 0 {
			s.failing.Add(1)
		}
		s.bytesOut.Add(int64(len(line)))
		s.reviewed.Store(n)
	}
}

// watch samples the memory and prints a line at every tenth.
func (s *soak) watch(pid int, began time.Time, ended <-chan struct{}) error {
	tick := time.NewTicker(s.every)
	defer tick.Stop()
	least, most, next := int64(0), int64(0), int64(1)
	row := func(done, now int64) {
		fmt.Printf("%10d %9.0f %9.1f %9.1f %9.1f\n", done, time.Since(began).Seconds(), megabytes(now), megabytes(least), megabytes(most))
		least, most = 0, 0
	}
	for {
		select {
		case <-ended:
			if n := len(s.seen); n > 0 && most > 0 {
				row(s.reviewed.Load(), s.seen[n-1].resident)
			}
			return nil
		case <-tick.C:
		}
		now, err := resident(pid)
		if err != nil {
			return err
		}
		if now == 0 {
			continue // it has ended, and is not waited for yet
		}
		done := s.reviewed.Load()
		s.seen = append(s.seen, sample{done, now})
		if least == 0 || now < least {
			least = now
		}
		most = max(most, now)
		if done*10 >= int64(s.designs)*next {
			row(done, now)
			for done*10 >= int64(s.designs)*next {
				next++
			}
		}
	}
}

// resident is the memory of a process that is in use, 0 of one that has ended.
func resident(pid int) (int64, error) {
	data, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	if err != nil {
		return 0, err
	}
	_, after, found := bytes.Cut(data, []byte("\nVmRSS:"))
	if !found {
		return 0, nil
	}
	kilobytes, _, _ := bytes.Cut(bytes.TrimSpace(after), []byte(" "))
	n, err := strconv.ParseInt(string(kilobytes), 10, 64)
	return n << 10, err
}

// judge compares the thirds of what came after the warm-up.
func (s *soak) judge() error {
	done := s.reviewed.Load()
	if done != s.sent.Load() {
		return fmt.Errorf("%d designs, %d reviews", s.sent.Load(), done)
	}
	var most [3]int64
	var samples [3]int
	from := int64(float64(done) * warmUp)
	for _, x := range s.seen {
		if x.reviewed < from || x.reviewed >= done {
			continue
		}
		third := (x.reviewed - from) * 3 / (done - from)
		most[third] = max(most[third], x.resident)
		samples[third]++
	}
	for third, n := range samples {
		if n < 20 {
			return fmt.Errorf("only %d looks at the memory in third %d: more designs are needed", n, third+1)
		}
	}
	growth := float64(most[2])/float64(most[0]) - 1
	fmt.Printf("at most %.1f, %.1f and %.1f MB in the thirds after a warm-up of %d designs: %+.1f %%\n",
		megabytes(most[0]), megabytes(most[1]), megabytes(most[2]), from, growth*100)
	if growth > tolerance {
		return fmt.Errorf("the memory grows by %.1f %%, and %.0f %% are tolerated", growth*100, tolerance*100)
	}
	if done < int64(s.designs) {
		return fmt.Errorf("stopped after %d of %d designs", done, s.designs)
	}
	return nil
}

func megabytes(bytes int64) float64 { return float64(bytes) / (1 << 20) }
