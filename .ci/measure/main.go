// Command measure measures the speed of backpitch: .ci/speed runs it at the top
// of the repository.
//
// It keeps little memory itself, because Linux counts what a process had before
// it became another program into the peak of that program.
package main

import (
	"bytes"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"text/tabwriter"
	"time"
)

const (
	profileID = "ipc-2021"
	demoFile  = "testdata/designs/pottery-studio.json"
	opaModule = "github.com/open-policy-agent/opa"
)

// bench is what the sections share.
type bench struct {
	quick      bool
	work       string // a temporary folder
	backpitch  string // the programs
	opa        string
	bundle     string // the profile, packed
	differ     []string
	all        []row // of every section
	rows       []row // of this one
	demoReview float64
}

// row is one line of the table. An aim is "" where there is none.
type row struct {
	what, figure, aim string
	met               bool
}

func (b *bench) say(what, format string, args ...any) {
	b.rows = append(b.rows, row{what: what, figure: fmt.Sprintf(format, args...)})
}

// aim is say with what the figure should be.
func (b *bench) aim(met bool, aim, what, format string, args ...any) {
	b.rows = append(b.rows, row{what, fmt.Sprintf(format, args...), aim, met})
}

// differs notes that two sides that should do the same work did not.
func (b *bench) differs(format string, args ...any) {
	b.differ = append(b.differ, fmt.Sprintf(format, args...))
}

type section struct {
	name, title string
	measure     func(*bench) error
}

var sections = []section{
	{"start", "COLD START: one design, a new process", (*bench).start},
	{"batch", "BATCH: many designs, two cores", (*bench).batch},
	{"growth", "GROWTH: 50 to 5,000 pipes", (*bench).growth},
	{"stages", "WHERE THE TIME GOES", (*bench).stages},
	{"plain", "BESIDE PLAIN GO: the same rules, written by hand", (*bench).plain},
	{"rules", "THE DEAREST RULES", (*bench).rules},
}

func main() {
	b := &bench{}
	flag.BoolVar(&b.quick, "quick", false, "fewer runs and designs: about a minute")
	only := flag.String("only", "", "sections to measure, with commas: start, batch, growth, stages, plain, rules")
	flag.Parse()
	chosen := strings.FieldsFunc(*only, func(r rune) bool { return r == ',' })
	for _, name := range chosen {
		if !slices.ContainsFunc(sections, func(s section) bool { return s.name == name }) {
			fmt.Fprintf(os.Stderr, "no section %q\n", name)
			os.Exit(2)
		}
	}
	if err := b.run(chosen); err != nil {
		fmt.Fprintln(os.Stderr, "FAILED:", err)
		os.Exit(1)
	}
}

func (b *bench) run(chosen []string) error {
	var err error
	if b.work, err = os.MkdirTemp("", "backpitch-speed-"); err != nil {
		return err
	}
	defer os.RemoveAll(b.work) //nolint:errcheck // a temporary folder
	stop := make(chan os.Signal, 1)
	signal.Notify(stop, os.Interrupt, syscall.SIGTERM)
	go func() {
		<-stop
		os.RemoveAll(b.work) //nolint:errcheck // a temporary folder
		os.Exit(1)
	}()
	began := time.Now()
	if err := b.build(); err != nil {
		return err
	}
	if err := b.machine(); err != nil {
		return err
	}
	var failed []string
	for _, s := range sections {
		if len(chosen) > 0 && !slices.Contains(chosen, s.name) {
			continue
		}
		fmt.Printf("\n%s\n", s.title)
		b.rows = nil
		if err := s.measure(b); err != nil {
			failed = append(failed, s.name+": "+err.Error())
		}
		table(b.rows)
		b.all = append(b.all, b.rows...)
	}
	if aims := slices.DeleteFunc(b.all, func(r row) bool { return r.aim == "" }); len(aims) > 0 {
		fmt.Printf("\nAIMS\n")
		table(aims)
	}
	fmt.Printf("\nmeasured in %s\n", time.Since(began).Round(time.Second))
	for _, d := range b.differ {
		failed = append(failed, "results differ: "+d)
	}
	if len(failed) > 0 {
		return fmt.Errorf("%s", strings.Join(failed, "\n        "))
	}
	return nil
}

func table(rows []row) {
	w := tabwriter.NewWriter(os.Stdout, 0, 0, 2, ' ', 0)
	for _, r := range rows {
		line := "  " + r.what + "\t" + r.figure
		if r.aim != "" {
			verdict := "NOT MET"
			if r.met {
				verdict = "met"
			}
			line += "\taim: " + r.aim + "\t" + verdict
		}
		fmt.Fprintln(w, line) //nolint:errcheck // Flush tells
	}
	w.Flush() //nolint:errcheck // standard output
}

// build makes the programs and packs the profile.
func (b *bench) build() error {
	b.backpitch, b.bundle = filepath.Join(b.work, "backpitch"), filepath.Join(b.work, profileID+".tar.gz")
	if _, err := output("go", "build", "-o", b.backpitch, "./cmd/backpitch"); err != nil {
		return err
	}
	if _, err := output(b.backpitch, "profile", "pack", profileID, "--output", b.bundle); err != nil {
		return err
	}
	return b.stock()
}

// stock finds or builds the opa command of the version in go.mod.
func (b *bench) stock() error {
	version, err := output("go", "list", "-m", "-f", "{{.Version}}", opaModule)
	if err != nil {
		return err
	}
	v := strings.TrimSpace(string(version))
	cache, err := os.UserCacheDir()
	if err != nil {
		return err
	}
	cache = filepath.Join(cache, "backpitch", "opa-"+v+"-"+runtime.Version())
	b.opa = filepath.Join(cache, "opa")
	if _, err := os.Stat(b.opa); err == nil {
		return nil
	}
	fmt.Printf("building opa %s, kept in %s\n", v, cache)
	// The command needs modules that the library does not: a module of its own.
	scratch := filepath.Join(b.work, "opa")
	if err := os.MkdirAll(scratch, 0o755); err != nil {
		return err
	}
	if err := os.MkdirAll(cache, 0o755); err != nil {
		return err
	}
	mod := fmt.Sprintf("module scratch\n\ngo %s\n\nrequire %s %s\n", strings.TrimPrefix(runtime.Version(), "go"), opaModule, v)
	if err := os.WriteFile(filepath.Join(scratch, "go.mod"), []byte(mod), 0o644); err != nil {
		return err
	}
	made := filepath.Join(scratch, "opa")
	cmd := exec.Command("go", "build", "-o", made, opaModule)
	cmd.Dir = scratch
	cmd.Env = append(os.Environ(), "GOFLAGS=-mod=mod", "GOWORK=off")
	if out, err := cmd.CombinedOutput(); err != nil {
		return fmt.Errorf("building opa: %w\n%s", err, out)
	}
	// Not renamed: the cache may be on another disk.
	from, err := os.Open(made)
	if err != nil {
		return err
	}
	defer from.Close() //nolint:errcheck // it was read
	half := b.opa + ".new"
	to, err := os.OpenFile(half, os.O_CREATE|os.O_WRONLY|os.O_TRUNC, 0o755)
	if err != nil {
		return err
	}
	if _, err := io.Copy(to, from); err != nil {
		return err
	}
	if err := to.Close(); err != nil {
		return err
	}
	return os.Rename(half, b.opa)
}

// machine says on what is measured.
func (b *bench) machine() error {
	version, err := output(b.opa, "version")
	if err != nil {
		return err
	}
	opa, _, _ := strings.Cut(string(version), "\n")
	commit, _ := output("git", "describe", "--always", "--dirty")
	model := "processor unknown"
	if data, err := os.ReadFile("/proc/cpuinfo"); err == nil {
		for line := range strings.Lines(string(data)) {
			if key, value, ok := strings.Cut(line, ":"); ok && strings.TrimSpace(key) == "model name" {
				model = strings.TrimSpace(value)
				break
			}
		}
	}
	load, busy := "", false
	if data, err := os.ReadFile("/proc/loadavg"); err == nil {
		one, _, _ := strings.Cut(string(data), " ")
		load = ", load " + one
		n, err := strconv.ParseFloat(one, 64)
		busy = err == nil && n > float64(runtime.NumCPU())/2
	}
	mode := "full"
	if b.quick {
		mode = "quick"
	}
	fmt.Printf("%d cores, %s, %s/%s%s\n%s, OPA %s\nbackpitch %s, profile %s, %s run of %s\n", runtime.NumCPU(), model, runtime.GOOS, runtime.GOARCH, load,
		runtime.Version(), strings.TrimSpace(strings.TrimPrefix(opa, "Version:")), bytes.TrimSpace(commit), profileID, mode, time.Now().Format("2006-01-02 15:04"))
	if busy {
		fmt.Println("OTHER PROGRAMS ARE RUNNING: read processor times and ratios of them; wall times mean little")
	}
	floor, err := b.measured("true")
	if err != nil {
		return err
	}
	if floor.peak > 40<<20 {
		return fmt.Errorf("this program needs %s itself, so that smaller peaks cannot be told", megabytes(floor.peak))
	}
	return nil
}
