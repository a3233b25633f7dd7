package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"backpitch/engine/report"
)

// folder makes a folder with n designs; every tenth cannot be read as one.
func folder(t *testing.T, n int) string {
	t.Helper()
	dir := t.TempDir()
	design, err := os.ReadFile(filepath.Join(root, "testdata", "designs", "pottery-studio-sketch.json"))
	if err != nil {
		t.Fatal(err)
	}
	hostile := [][]byte{nil, {0, 1, 2, 255}, []byte(strings.Repeat("[", 100_000)), []byte(`{"project":`), []byte("\xef\xbb\xbf{}")}
	for i := range n {
		data := design
		if i%10 == 9 {
			data = hostile[i/10%len(hostile)]
		}
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("s%03d.json", i)), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// files reads a folder; hidden files are only listed.
func files(t *testing.T, dir string) (content map[string]string, hidden []string) {
	t.Helper()
	content = map[string]string{}
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), ".") {
			hidden = append(hidden, e.Name())
			continue
		}
		data, err := os.ReadFile(filepath.Join(dir, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		content[e.Name()] = string(data)
	}
	return content, hidden
}

// TestSameBytesForAnyJobs holds that the number of goroutines changes nothing,
// in any format.
func TestSameBytesForAnyJobs(t *testing.T) {
	in := folder(t, 20)
	for _, format := range report.Formats() {
		t.Run(format, func(t *testing.T) {
			one, _, _ := command(t, "review", "--format", format, "--jobs", "1", studio, in, flawed)
			many, _, _ := command(t, "review", "--format", format, "--jobs", "7", studio, in, flawed)
			if one == "" || one != many {
				t.Errorf("one goroutine and seven print different reports")
			}
		})
	}
}

// TestNothingIsLost holds that every file of a folder with hostile ones has its
// review, its report and its line, and that the sums add up.
func TestNothingIsLost(t *testing.T) {
	in, out := folder(t, 50), t.TempDir()
	stdout, stderr, code := command(t, "review", "--format", "json,csv", "--out-dir", out, in)
	if code != exitNotChecked || stderr != "" {
		t.Errorf("exit %d, stderr %q", code, stderr)
	}
	if n := strings.Count(stdout, "\r\n"); n != 51 {
		t.Errorf("%d lines, want a header and 50", n)
	}
	if n := strings.Count(stdout, ",not checked,"); n != 5 {
		t.Errorf("%d of 50 were not checked, want 5", n)
	}
	content, hidden := files(t, out)
	if len(content) != 50 {
		t.Errorf("%d reports of 50 designs", len(content))
	}
	if diff := cmp.Diff([]string{lockName, stateName}, hidden); diff != "" {
		t.Errorf("left behind (-want +got):\n%s", diff)
	}
	reviews, _ := reviewed(t, in)
	if len(reviews) != 50 {
		t.Errorf("%d reviews of 50 designs", len(reviews))
	}
}

// backpitch starts the command as a process of its own.
func backpitch(t *testing.T, args ...string) (cmd *exec.Cmd, stderr *bytes.Buffer) {
	t.Helper()
	cmd = exec.Command("backpitch", args...) // testscript.Main puts it on PATH
	stderr = &bytes.Buffer{}
	cmd.Stderr = stderr
	return cmd, stderr
}

// TestKilledRunsLeaveWholeReports kills a run at different points, with no
// chance to clean up, and holds that every report stands whole and that the
// next run completes.
func TestKilledRunsLeaveWholeReports(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no SIGKILL")
	}
	in, want := folder(t, 60), t.TempDir()
	if _, _, code := command(t, "review", "--format", "json,junit", "--out-dir", want, in); code != exitNotChecked {
		t.Fatalf("exit %d", code)
	}
	whole, _ := files(t, want)
	out := t.TempDir()
	args := []string{"review", "--jobs", "2", "--format", "json,junit", "--out-dir", out, "--skip-unchanged", in}
	killed := 0
	for round := range 12 {
		cmd, _ := backpitch(t, args...)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		waitForReports(t, out, round*6)
		cmd.Process.Kill() //nolint:errcheck // it may have ended
		var exit *exec.ExitError
		if err := cmd.Wait(); errors.As(err, &exit) && exit.ExitCode() < 0 {
			killed++
		}
		content, _ := files(t, out)
		for name, data := range content {
			if data != whole[name] {
				t.Fatalf("round %d: %s is not whole", round, name)
			}
		}
		if round%4 == 3 { // start afresh, and with a line of the state cut off
			for name := range content {
				os.Remove(filepath.Join(out, name))
			}
			appendTo(t, filepath.Join(out, stateName), `{"design":"cut o`)
		}
	}
	if killed < 6 {
		t.Errorf("only %d of 12 runs were killed before they ended", killed)
	}
	cmd, stderr := backpitch(t, args...)
	if err := cmd.Run(); cmd.ProcessState.ExitCode() != exitNotChecked || stderr.Len() > 0 {
		t.Errorf("the last run: %v, %s", err, stderr)
	}
	content, hidden := files(t, out)
	if diff := cmp.Diff(whole, content); diff != "" {
		t.Errorf("the reports differ from those of a run that was not killed (-want +got):\n%.2000s", diff)
	}
	if diff := cmp.Diff([]string{lockName, stateName}, hidden); diff != "" {
		t.Errorf("left behind (-want +got):\n%s", diff)
	}
}

// waitForReports waits until a folder has at least n reports, or a while.
func waitForReports(t *testing.T, dir string, n int) {
	t.Helper()
	for range 500 {
		entries, err := os.ReadDir(dir)
		if err != nil {
			t.Fatal(err)
		}
		reports := 0
		for _, e := range entries {
			if !strings.HasPrefix(e.Name(), ".") {
				reports++
			}
		}
		if reports > n {
			return
		}
		time.Sleep(5 * time.Millisecond)
	}
}

func appendTo(t *testing.T, file, text string) {
	t.Helper()
	f, err := os.OpenFile(file, os.O_APPEND|os.O_WRONLY, 0o644)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if _, err := f.WriteString(text); err != nil {
		t.Fatal(err)
	}
}

// TestInterruptedRunsEndCleanly holds what SIGINT and SIGTERM do: exit 2, a
// message, nothing half written, and no report that looks complete and is not.
func TestInterruptedRunsEndCleanly(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no SIGTERM")
	}
	in := folder(t, 400)
	for _, signal := range []os.Signal{os.Interrupt, syscall.SIGTERM} {
		out := t.TempDir()
		cmd, stderr := backpitch(t, "review", "--jobs", "1", "--format", "json", "--out-dir", out, in)
		interrupt(t, cmd, signal, func() { waitForReports(t, out, 3) })
		if !strings.Contains(stderr.String(), "backpitch: interrupted: ") || !strings.Contains(stderr.String(), "--skip-unchanged goes on from there") {
			t.Errorf("%v: %s", signal, stderr)
		}
		content, hidden := files(t, out)
		if len(content) == 400 || len(hidden) != 2 {
			t.Errorf("%v: %d reports, hidden %v", signal, len(content), hidden)
		}
		for name, data := range content {
			if !json.Valid([]byte(data)) {
				t.Errorf("%s is not whole", name)
			}
		}

		file := filepath.Join(t.TempDir(), "report.json")
		if err := os.WriteFile(file, []byte("as it was"), 0o644); err != nil {
			t.Fatal(err)
		}
		cmd, stderr = backpitch(t, "review", "--jobs", "1", "--format", "json", "--output", file, in)
		interrupt(t, cmd, signal, func() { time.Sleep(300 * time.Millisecond) })
		if got, err := os.ReadFile(file); err != nil || string(got) != "as it was" {
			t.Errorf("%v: --output was touched: %.50q, %v", signal, got, err)
		}
		if entries, _ := os.ReadDir(filepath.Dir(file)); len(entries) != 1 {
			t.Errorf("%v: left behind: %v", signal, entries)
		}
		if !strings.Contains(stderr.String(), "report.json is left as it was") {
			t.Errorf("%v: %s", signal, stderr)
		}
	}
	// Standard output cannot be taken back: it is finished, and says so.
	cmd, _ := backpitch(t, "review", "--jobs", "1", "--format", "json", in)
	var stdout bytes.Buffer
	cmd.Stdout = &stdout
	interrupt(t, cmd, os.Interrupt, func() { time.Sleep(300 * time.Millisecond) })
	if !json.Valid(stdout.Bytes()) || !strings.Contains(stdout.String(), "the run was interrupted: this design and ") {
		t.Errorf("what was printed is not finished, or does not say so: …%.300s", stdout.Bytes()[max(0, stdout.Len()-300):])
	}
}

func interrupt(t *testing.T, cmd *exec.Cmd, signal os.Signal, when func()) {
	t.Helper()
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	when()
	if err := cmd.Process.Signal(signal); err != nil {
		t.Fatal(err)
	}
	cmd.Wait() //nolint:errcheck // the exit code says it
	if code := cmd.ProcessState.ExitCode(); code != exitNotChecked {
		t.Errorf("%v: exit %d, want %d", signal, code, exitNotChecked)
	}
}

// TestTwoRunsInOneFolder holds that the second is refused while the first
// lasts, and that a lock left by a run that has ended holds nothing up.
func TestTwoRunsInOneFolder(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no flock")
	}
	out := t.TempDir()
	unlock, busy, err := lockFile(filepath.Join(out, lockName))
	if err != nil || busy {
		t.Fatal(busy, err)
	}
	_, stderr, code := command(t, "review", "--format", "json", "--out-dir", out, studio)
	if code != exitNotChecked || !strings.Contains(stderr, "another run is writing to "+out) {
		t.Errorf("exit %d: %s", code, stderr)
	}
	if content, _ := files(t, out); len(content) != 0 {
		t.Errorf("the second run wrote %v", content)
	}
	unlock()
	if _, stderr, code := command(t, "review", "--format", "json", "--out-dir", out, studio); code != exitClean {
		t.Errorf("exit %d: %s", code, stderr)
	}
}

// TestStreamAnswersEachLine holds that one who writes a design and waits for
// its review gets it before writing the next.
func TestStreamAnswersEachLine(t *testing.T) {
	toUs, questions := io.Pipe()
	answers, fromUs := io.Pipe()
	done := make(chan int)
	go func() {
		code := run(context.Background(), []string{"backpitch", "review", "--stream", "--jobs", "3"}, toUs, fromUs, io.Discard)
		fromUs.Close()
		done <- code
	}()
	dec := json.NewDecoder(answers)
	for i := 1; i <= 5; i++ {
		if _, err := fmt.Fprintln(questions, `{"project":{"name":"x"},"building":{},"profile":"ipc-2021"}`); err != nil {
			t.Fatal(err)
		}
		var answer struct{ Line int }
		if err := dec.Decode(&answer); err != nil || answer.Line != i {
			t.Fatalf("line %d: answer to line %d, %v", i, answer.Line, err)
		}
	}
	questions.Close()
	if code := <-done; code != exitClean {
		t.Errorf("exit %d", code)
	}
}

// TestLongLines holds that a line over the limit is one answer, and that the
// line after it is read as a design again.
func TestLongLines(t *testing.T) {
	next := lines(strings.NewReader("a\n\n"+strings.Repeat("x", 200_000)+"\r\n  \nb\n"+strings.Repeat("y", 100)+"\r\n"+strings.Repeat("z", 101)+"\n"+strings.Repeat("z", 101)), 100)
	var got []string
	for {
		l, ok := next()
		if !ok {
			break
		}
		got = append(got, fmt.Sprintf("%d:%d:%.1s:%d", l.number, len(l.data), l.data, l.over))
	}
	want := []string{"1:1:a:0", "3:0::200000", "5:1:b:0", "6:100:y:0", "7:0::101", "8:0::101"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

func TestReportNames(t *testing.T) {
	seen := map[string]string{}
	for _, path := range []string{"a.json", "b/a.json", "a/b.json", "a b.json", "a_b.json", "/a.json", "../a.json", "A.json", "ä.json", ".json", strings.Repeat("x", 300) + ".json", "-", "..json"} {
		name := reportName(path)
		if other, ok := seen[strings.ToLower(name)]; ok {
			t.Errorf("%q and %q have one report", path, other)
		}
		seen[strings.ToLower(name)] = path
		if strings.HasPrefix(name, ".") || strings.ContainsAny(name, `/\: `) || len(name) > 120 {
			t.Errorf("%q gives %q", path, name)
		}
	}
	if reportName("./x/../a.json") != reportName("a.json") {
		t.Error("one path has two reports")
	}
}

func TestPatterns(t *testing.T) {
	for _, c := range []struct {
		pattern, name string
		want          bool
	}{
		{"**/a.json", "a.json", true}, {"**/a.json", "x/y/a.json", true}, {"x/**/a.json", "x/a.json", true},
		{"x/**/a.json", "y/a.json", false}, {"**", "x/y", true}, {"*/a.json", "a.json", false}, {"*/a.json", "x/y/a.json", false},
		{"[ab]?.json", "b1.json", true}, {"**/**/x", "x", true}, {"x/**/y/**/z", "x/1/y/2/3/z", true}, {"x/**/y/**/z", "x/1/2/z", false},
	} {
		if got := matches(strings.Split(c.pattern, "/"), strings.Split(c.name, "/")); got != c.want {
			t.Errorf("%s matches %s: %v", c.pattern, c.name, got)
		}
	}
}
