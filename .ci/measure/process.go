package main

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"runtime"
	"slices"
	"strings"
	"syscall"
	"time"
)

// cost is what one run of a program took.
type cost struct {
	wall, cpu time.Duration // cpu: user and system
	peak      int64         // bytes of memory at most
	out       []byte
}

// output runs a program that is not measured.
func output(name string, args ...string) ([]byte, error) {
	var errs bytes.Buffer
	cmd := exec.Command(name, args...)
	cmd.Stderr = &errs
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("%s: %w\n%s%s", strings.Join(cmd.Args, " "), err, out, errs.Bytes())
	}
	return out, nil
}

// measured runs a program once. Exit 1 of backpitch says that a design fails,
// which is no fault.
func (b *bench) measured(name string, args ...string) (cost, error) { return b.on(nil, name, args...) }

func (b *bench) on(env []string, name string, args ...string) (cost, error) {
	var out, errs bytes.Buffer
	cmd := exec.Command(name, args...)
	cmd.Stdout, cmd.Stderr, cmd.Env = &out, &errs, append(os.Environ(), env...)
	began := time.Now()
	err := cmd.Run()
	c := cost{wall: time.Since(began), out: out.Bytes()}
	if exit, ok := errors.AsType[*exec.ExitError](err); ok && exit.ExitCode() == 1 && name == b.backpitch {
		err = nil
	}
	if err != nil {
		return c, fmt.Errorf("%s: %w\n%s", strings.Join(cmd.Args, " "), err, tail(errs.String()+out.String()))
	}
	c.cpu = cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
	if u, ok := cmd.ProcessState.SysUsage().(*syscall.Rusage); ok {
		c.peak = int64(u.Maxrss)
		if runtime.GOOS != "darwin" && runtime.GOOS != "ios" {
			c.peak <<= 10 // kilobytes elsewhere
		}
	}
	return c, nil
}

func tail(s string) string {
	if len(s) > 2000 {
		return "… " + s[len(s)-2000:]
	}
	return s
}

// command is one of several that are run in turns.
type command struct {
	name string
	args []string
	env  []string
}

// inTurns runs commands one after the other, several times, so that what
// disturbs the machine disturbs all; it stops early after some time, but not
// before three runs. The results stand in the order of the commands.
func (b *bench) inTurns(runs int, most time.Duration, commands ...command) ([][]cost, error) {
	all := make([][]cost, len(commands))
	began := time.Now()
	for n := 0; n < runs && (n < 3 || time.Since(began) < most); n++ {
		for i, c := range commands {
			got, err := b.on(c.env, c.name, c.args...)
			if err != nil {
				return nil, err
			}
			if n > 0 {
				got.out = nil // the first is enough
			}
			all[i] = append(all[i], got)
		}
	}
	return all, nil
}

// median is the median of a figure of the runs.
func median(costs []cost, of func(cost) float64) float64 {
	list := make([]float64, len(costs))
	for i, c := range costs {
		list[i] = of(c)
	}
	return middle(list)
}

func middle(list []float64) float64 {
	if len(list) == 0 {
		return math.NaN()
	}
	slices.Sort(list)
	n := len(list)
	return (list[(n-1)/2] + list[n/2]) / 2
}

func wall(c cost) float64  { return c.wall.Seconds() }
func cpu(c cost) float64   { return c.cpu.Seconds() }
func peak(c cost) float64  { return float64(c.peak) }
func sec(s float64) string { return fmt.Sprintf("%.1f s", s) }

func ms(s float64) string {
	if s < 0.001 {
		return fmt.Sprintf("%.3f ms", s*1e3)
	}
	return fmt.Sprintf("%.1f ms", s*1e3)
}

func megabytes(bytes int64) string { return fmt.Sprintf("%.0f MB", float64(bytes)/(1<<20)) }

// medians are the medians of the runs in words.
func medians(costs []cost, show func(float64) string) string {
	return fmt.Sprintf("%s wall, %s user+sys, peak %s", show(median(costs, wall)), show(median(costs, cpu)), megabytes(int64(median(costs, peak))))
}

// growthOf is the exponent of y = c·x^e by least squares on logarithms.
func growthOf(x, y []float64) float64 {
	var sx, sy, sxx, sxy float64
	n := float64(len(x))
	for i := range x {
		lx, ly := math.Log(x[i]), math.Log(y[i])
		sx, sy, sxx, sxy = sx+lx, sy+ly, sxx+lx*lx, sxy+lx*ly
	}
	return (n*sxy - sx*sy) / (n*sxx - sx*sx)
}
