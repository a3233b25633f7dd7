package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"backpitch/engine/finding"
	"backpitch/engine/report"
)

// limited starts the command under a limit of file sizes, as on a disk that is
// full after so many bytes; it needs no rights.
func limited(t *testing.T, bytesOfFile int, args ...string) *exec.Cmd {
	t.Helper()
	shell := fmt.Sprintf(`ulimit -f %d; exec "$@"`, bytesOfFile/512)
	return exec.Command("sh", append([]string{"-c", shell, "sh", "backpitch"}, args...)...)
}

// fails runs a command that must end with exit 2 and these words, and returns
// what it printed.
func fails(t *testing.T, cmd *exec.Cmd, stderr string) (stdout string) {
	t.Helper()
	var out, errs bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &errs
	if cmd.Dir == "" {
		cmd.Dir = root
	}
	cmd.Run() //nolint:errcheck // the exit code says it
	if code := cmd.ProcessState.ExitCode(); code != exitNotChecked {
		t.Errorf("%v: exit %d, want 2; %s", cmd.Args, code, &errs)
	}
	if got := errs.String(); got != stderr {
		t.Errorf("%v:\n got %q\nwant %q", cmd.Args, got, stderr)
	}
	return out.String()
}

// onlyThere holds that a folder has these entries and nothing besides.
func onlyThere(t *testing.T, dir string, want ...string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range entries {
		got = append(got, e.Name())
	}
	slices.Sort(want)
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("%s (-want +got):\n%s", dir, diff)
	}
}

// smallDisk mounts a file system of a few pages, where that is allowed.
func smallDisk(t *testing.T, size string) string {
	t.Helper()
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "mode=0777,size="+size); err != nil {
		t.Skipf("no file system may be mounted here: %s", err)
	}
	t.Cleanup(func() {
		if err := syscall.Unmount(dir, syscall.MNT_DETACH); err != nil {
			t.Errorf("unmounting %s: %s", dir, err)
		}
	})
	return dir
}

// written are commands that write a file, but for its name.
func written() map[string][]string {
	list := map[string][]string{
		"calcs": {"calcs", flawed, "--output"}, "draw": {"draw", flawed, "--output"}, "facts": {"facts", flawed, "--output"},
		"backcheck": {"backcheck", studio, flawed, "--output"}, "stream": {"review", "--stream", "-", "--output"},
		"pack": {"profile", "pack", "chicago", "--output"}, "book": {"rule", "book", "--format", "markdown", "--output"},
		"baseline": {"backcheck", flawed, flawed, "--format", "json", "--write-baseline"},
	}
	for _, f := range report.Formats() {
		list["review "+f] = []string{"review", "--format", f, flawed, studio, "--output"}
	}
	return list
}

// TestDiskFull holds for every kind of output that a disk that is full leaves
// the file as it was, and nothing besides it.
func TestDiskFull(t *testing.T) {
	oneLine := flat(t, flawed)
	for name, args := range written() {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			file := filepath.Join(dir, "out.txt")
			if err := os.WriteFile(file, []byte("as it was"), 0o644); err != nil {
				t.Fatal(err)
			}
			cmd := limited(t, 0, append(args, file)...)
			cmd.Stdin = bytes.NewReader(oneLine)
			fails(t, cmd, "backpitch: writing "+file+": file too large\n")
			if data, err := os.ReadFile(file); err != nil || string(data) != "as it was" {
				t.Errorf("the file was touched: %.50q, %v", data, err)
			}
			onlyThere(t, dir, "out.txt")
		})
	}
}

// flat is a design on one line.
func flat(t *testing.T, file string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(root, file))
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := json.Compact(&b, data); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestDiskFullInAFolder holds that the reports that stand are whole, that
// nothing besides them is left, and that a run with more room goes on.
func TestDiskFullInAFolder(t *testing.T) {
	in := folder(t, 30)
	want := t.TempDir()
	if _, _, code := command(t, "review", "--format", "json", "--out-dir", want, in); code != exitNotChecked {
		t.Fatalf("exit %d", code)
	}
	whole, _ := files(t, want)
	check := func(t *testing.T, out string) {
		content, hidden := files(t, out)
		if diff := cmp.Diff([]string{lockName, stateName}, hidden); diff != "" {
			t.Errorf("left behind (-want +got):\n%s", diff)
		}
		for name, data := range content {
			if data != whole[name] {
				t.Errorf("%s is not whole", name)
			}
		}
		if len(content) == len(whole) {
			t.Error("the disk was not full")
		}
	}
	again := func(t *testing.T, out string) {
		if _, stderr, code := command(t, "review", "--format", "json", "--out-dir", out, "--skip-unchanged", in); code != exitNotChecked || stderr != "" {
			t.Errorf("exit %d, %s", code, stderr)
		}
		content, _ := files(t, out)
		if diff := cmp.Diff(whole, content); diff != "" {
			t.Errorf("a run with room (-want +got):\n%.1000s", diff)
		}
	}
	t.Run("a report", func(t *testing.T) {
		out := t.TempDir()
		fails(t, limited(t, 4096, "review", "--format", "json", "--out-dir", out, in), "backpitch: writing to "+out+": file too large\n")
		check(t, out)
		again(t, out)
	})
	t.Run("the state", func(t *testing.T) {
		out := t.TempDir()
		most := 0
		for _, data := range whole {
			most = max(most, len(data))
		}
		state := filepath.Join(out, stateName) // filled up beforehand
		if err := os.WriteFile(state, bytes.Repeat([]byte("{}\n"), (most+4096)/3), 0o644); err != nil {
			t.Fatal(err)
		}
		fails(t, limited(t, most+4608, "review", "--jobs", "1", "--format", "json", "--out-dir", out, in), "backpitch: writing to "+out+": file too large\n")
		check(t, out)
		again(t, out)
	})
	t.Run("the disk", func(t *testing.T) {
		out := filepath.Join(smallDisk(t, "256k"), "out")
		cmd, _ := backpitch(t, "review", "--format", "json", "--out-dir", out, in)
		fails(t, cmd, "backpitch: writing to "+out+": no space left on device\n")
		check(t, out)
		roomy := t.TempDir()
		if err := os.CopyFS(roomy, os.DirFS(out)); err != nil {
			t.Fatal(err)
		}
		again(t, roomy)
	})
}

// TestNoRoomForTemporaryFiles holds what reports that wait for their end do:
// more than a megabyte of notifications, or of letters.
func TestNoRoomForTemporaryFiles(t *testing.T) {
	bad := []byte(`{"project":{"name":"x"},"building":{},"pipes":[` + strings.Repeat(`{"id":"","service":"none","size":3},`, 40) + `{}]}`)
	in := t.TempDir()
	for i := range 150 {
		if err := os.WriteFile(filepath.Join(in, fmt.Sprintf("%03d.json", i)), bad, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, format := range []string{"sarif", "html", "markdown"} {
		t.Run(format, func(t *testing.T) {
			dir := t.TempDir()
			file := filepath.Join(dir, "report")
			args := []string{"review", "--format", format, in, "--output", file}
			missing := filepath.Join(dir, "none")
			cmd, _ := backpitch(t, args...)
			cmd.Env = append(os.Environ(), "TMPDIR="+missing)
			fails(t, cmd, "backpitch: writing a temporary file in "+missing+": no such file or directory\n    hint: set TMPDIR to a folder with more room\n")
			onlyThere(t, dir)

			cmd, _ = backpitch(t, args[:4]...) // to standard output
			cmd.Env = append(os.Environ(), "TMPDIR="+missing)
			fails(t, cmd, "backpitch: writing a temporary file in "+missing+": no such file or directory\n    hint: set TMPDIR to a folder with more room\n")

			temp := t.TempDir()
			cmd = limited(t, 512<<10, args...)
			cmd.Env = append(os.Environ(), "TMPDIR="+temp)
			fails(t, cmd, "backpitch: writing a temporary file in "+temp+": file too large\n    hint: set TMPDIR to a folder with more room\n")
			onlyThere(t, temp)
			onlyThere(t, dir)

			t.Run("the disk", func(t *testing.T) {
				full := smallDisk(t, "64k")
				cmd, _ := backpitch(t, args...)
				cmd.Env = append(os.Environ(), "TMPDIR="+full)
				fails(t, cmd, "backpitch: writing a temporary file in "+full+": no space left on device\n    hint: set TMPDIR to a folder with more room\n")
				onlyThere(t, full)
				onlyThere(t, dir)
			})

			// With room nothing is left either.
			cmd, _ = backpitch(t, args...)
			cmd.Env = append(os.Environ(), "TMPDIR="+temp)
			fails(t, cmd, "")
			onlyThere(t, temp)
			onlyThere(t, dir, "report")
		})
	}
}

// TestStandardOutputFails holds for every command that a full disk behind
// standard output is an error, and that a reader who has gone needs no words.
func TestStandardOutputFails(t *testing.T) {
	list := map[string][]string{
		"help": {"--help"}, "help of review": {"review", "--help"}, "version": {"--version"},
		"rules": {"rule", "list"}, "rule": {"rule", "show", "drain/too_flat"}, "profiles": {"profile", "list"}, "profile": {"profile", "show", "chicago"},
		"schema": {"schema", "design"}, "compared": {"review", "--profile", "ipc-2021,chicago", studio},
		"explained": {"review", "--explain", "drain/too_flat", "wet-2", flawed},
	}
	for name, args := range written() {
		if name != "pack" && name != "baseline" {
			list[name] = args[:len(args)-1]
		}
	}
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip(err)
	}
	t.Cleanup(func() { full.Close() })
	oneLine := flat(t, flawed)
	for name, args := range list {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			for want, out := range map[string]*os.File{"backpitch: writing standard output: no space left on device\n": full, "": goneReader(t)} {
				cmd, stderr := backpitch(t, args...)
				cmd.Dir, cmd.Stdout, cmd.Stdin = root, out, bytes.NewReader(oneLine)
				cmd.Run() //nolint:errcheck // the exit code says it
				if code := cmd.ProcessState.ExitCode(); code != exitNotChecked || stderr.String() != want {
					t.Errorf("%v: exit %d, %q, want %q", args, code, stderr, want)
				}
			}
		})
	}
	t.Run("roll-up", func(t *testing.T) {
		in, out := folder(t, 20), t.TempDir()
		cmd, stderr := backpitch(t, "review", "--format", "json", "--out-dir", out, in)
		cmd.Stdout = goneReader(t)
		cmd.Run() //nolint:errcheck
		content, hidden := files(t, out)
		if code := cmd.ProcessState.ExitCode(); code != exitNotChecked || stderr.Len() > 0 || len(hidden) != 2 {
			t.Errorf("exit %d, %s, %v", code, stderr, hidden)
		}
		for name, data := range content {
			if !json.Valid([]byte(data)) {
				t.Errorf("%s is not whole", name)
			}
		}
	})
	t.Run("into a device", func(t *testing.T) { // --output never takes the place of one
		cmd, _ := backpitch(t, "review", "--output", "/dev/full", studio)
		fails(t, cmd, "backpitch: writing /dev/full: no space left on device\n")
		if info, err := os.Stat("/dev/full"); err != nil || info.Mode()&os.ModeCharDevice == 0 {
			t.Errorf("/dev/full is no device any more: %v, %v", info.Mode(), err)
		}
	})
}

// goneReader is a pipe that nobody reads from any more.
func goneReader(t *testing.T) *os.File {
	t.Helper()
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	r.Close()
	t.Cleanup(func() { w.Close() })
	return w
}

// TestFolderReadOnly holds what a folder that takes no files, or something else
// in its place, does to each kind of output.
func TestFolderReadOnly(t *testing.T) {
	t.Run("locked", func(t *testing.T) {
		locked, reason := t.TempDir(), "permission denied"
		if os.Getuid() != 0 {
			if err := os.Chmod(locked, 0o555); err != nil {
				t.Fatal(err)
			}
		} else { // who heeds no modes
			locked, reason = smallDisk(t, "64k"), "read-only file system"
			if err := syscall.Mount("", locked, "", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""); err != nil {
				t.Skipf("no file system may be mounted here: %s", err)
			}
		}
		takesNoFiles(t, locked, reason)
		onlyThere(t, locked)
	})
	held := filepath.Join(t.TempDir(), "held")
	if err := os.WriteFile(held, []byte("as it was"), 0o644); err != nil {
		t.Fatal(err)
	}
	takesNoFiles(t, held, "not a directory")
	if data, err := os.ReadFile(held); err != nil || string(data) != "as it was" {
		t.Errorf("the file in place of the folder was touched: %q, %v", data, err)
	}
	// A folder where a file is to stand.
	dir := t.TempDir()
	cmd, _ := backpitch(t, "review", "--output", dir, studio)
	fails(t, cmd, "backpitch: writing "+dir+": is a folder\n")
	onlyThere(t, dir)
	name := reportName(studio) + ".json"
	if err := os.Mkdir(filepath.Join(dir, name), 0o755); err != nil {
		t.Fatal(err)
	}
	cmd, _ = backpitch(t, "review", "--out-dir", dir, "--format", "json", studio)
	fails(t, cmd, "backpitch: writing to "+dir+": "+name+": file exists\n")
	onlyThere(t, dir, name, lockName, stateName)
}

// takesNoFiles holds that every kind of output says why there is none.
func takesNoFiles(t *testing.T, place, reason string) {
	t.Helper()
	for _, format := range []string{"text", "sarif", "html"} {
		file := filepath.Join(place, "report")
		cmd, _ := backpitch(t, "review", "--format", format, "--output", file, studio)
		fails(t, cmd, "backpitch: writing "+file+": "+reason+"\n")
		cmd, _ = backpitch(t, "review", "--format", format, "--out-dir", filepath.Join(place, "out"), studio)
		fails(t, cmd, "backpitch: writing to "+filepath.Join(place, "out")+": "+reason+"\n")
	}
	cmd, _ := backpitch(t, "review", "--out-dir", place, studio)
	fails(t, cmd, "backpitch: writing to "+place+": "+reason+"\n")
	cmd, _ = backpitch(t, "review", "--stream", "--output", filepath.Join(place, "report"), studio)
	fails(t, cmd, "backpitch: writing "+filepath.Join(place, "report")+": "+reason+"\n")
	err := writeFolder(filepath.Join(place, "exercise"), []namedFile{{"key.age", []byte("key")}})
	if want := "writing " + filepath.Join(place, "exercise") + ": " + reason; err == nil || err.Error() != want {
		t.Errorf("a folder of files: %v, want %s", err, want)
	}
}

// TestFolderOfSomebodyElse is the same without the rights of root.
func TestFolderOfSomebodyElse(t *testing.T) {
	if os.Getuid() != 0 {
		t.Skip("only root can run as somebody else")
	}
	program, err := exec.LookPath("backpitch")
	if err != nil {
		t.Fatal(err)
	}
	dir, err := os.MkdirTemp("/tmp", "backpitch-test-")
	if err != nil {
		t.Fatal(err)
	}
	defer os.RemoveAll(dir)
	data, err := os.ReadFile(program)
	if err != nil {
		t.Fatal(err)
	}
	own := filepath.Join(dir, "backpitch")
	if err := errors.Join(os.WriteFile(own, data, 0o755), os.Chmod(dir, 0o755), os.WriteFile(filepath.Join(dir, "d.json"), flat(t, studio), 0o644),
		os.WriteFile(filepath.Join(dir, "secret.json"), flat(t, studio), 0o600)); err != nil {
		t.Fatal(err)
	}
	as := func(args ...string) *exec.Cmd {
		cmd := exec.Command(own, args...)
		cmd.Dir = dir
		cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534, NoSetGroups: true}}
		return cmd
	}
	fails(t, as("review", "--output", "report", "d.json"), "backpitch: writing report: permission denied\n")
	fails(t, as("review", "--out-dir", ".", "d.json"), "backpitch: writing to .: permission denied\n")
	stdout := fails(t, as("review", "--format", "csv", "d.json", "secret.json"), "")
	if !strings.Contains(stdout, "reading secret.json: permission denied") || strings.Count(stdout, "\r\n") != 3 {
		t.Error(stdout)
	}
	onlyThere(t, dir, "backpitch", "d.json", "secret.json")
}

// TestInputsThatChange holds what becomes of designs that are not there any
// more, or are something else, when their turn comes: each is named, none holds
// the run up, and the others are judged.
func TestInputsThatChange(t *testing.T) {
	in := folder(t, 8)
	at := func(i int) string { return filepath.Join(in, fmt.Sprintf("s%03d.json", i)) }
	for _, mode := range [][]string{{"--format", "json"}, {"--format", "json", "--output", "report.json"}, {"--format", "json", "--out-dir", "out"}} {
		dir := t.TempDir()
		for i := range 8 {
			os.RemoveAll(at(i))
			if err := os.WriteFile(at(i), flat(t, sketch), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		// One worker reads standard input first, and waits.
		cmd, stderr := backpitch(t, slices.Concat([]string{"review", "--jobs", "1", "--fail-on", "never", "--max-bytes", "100000"}, mode, []string{"-", in})...)
		cmd.Dir = dir
		stdin, err := cmd.StdinPipe()
		if err != nil {
			t.Fatal(err)
		}
		var stdout bytes.Buffer
		cmd.Stdout = &stdout
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		if _, err := stdin.Write(flat(t, sketch)[:10]); err != nil {
			t.Fatal(err)
		}
		waitUntilAsleep(t, cmd.Process.Pid)
		if err := errors.Join(os.Remove(at(1)), os.Remove(at(2)), os.Mkdir(at(2), 0o755), os.Remove(at(3)), syscall.Mkfifo(at(3), 0o644),
			os.WriteFile(at(4), bytes.Repeat([]byte(" "), 200_000), 0o644), os.Truncate(at(5), 0), os.Remove(at(6)), os.Symlink(at(6), at(6))); err != nil {
			t.Fatal(err)
		}
		if _, err := stdin.Write(flat(t, sketch)[10:]); err != nil {
			t.Fatal(err)
		}
		stdin.Close()
		ended := make(chan struct{})
		go func() { cmd.Wait(); close(ended) }() //nolint:errcheck
		select {
		case <-ended:
		case <-time.After(60 * time.Second):
			cmd.Process.Kill() //nolint:errcheck
			t.Fatalf("%v: the run does not end", mode)
		}
		if code := cmd.ProcessState.ExitCode(); code != exitNotChecked || stderr.Len() > 0 {
			t.Errorf("%v: exit %d, %s", mode, code, stderr)
		}
		said := map[string]string{}
		for _, r := range reviewsOf(t, dir, mode, stdout.Bytes()) {
			text := r.Failure
			if len(r.Problems) > 0 {
				text = r.Problems[0].Message
			}
			said[filepath.Base(r.File)] = strings.Replace(text, "reading "+r.File+": ", "", 1)
		}
		want := map[string]string{"-": "", "s000.json": "", "s001.json": "no such file or directory", "s002.json": "is a folder", "s003.json": "is not a regular file",
			"s004.json": "the file has 200000 bytes; max-bytes is 100000", "s005.json": "the file is empty", "s006.json": "too many levels of symbolic links", "s007.json": ""}
		if diff := cmp.Diff(want, said); diff != "" {
			t.Errorf("%v (-want +got):\n%s", mode, diff)
		}
	}
}

// TestChangedBetweenLookAndOpen holds the same for what changes after a look
// at it said that it is a regular file: a pipe that nobody writes to is opened
// without waiting.
func TestChangedBetweenLookAndOpen(t *testing.T) {
	dir := t.TempDir()
	pipe := filepath.Join(dir, "pipe")
	if err := syscall.Mkfifo(pipe, 0o644); err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]error{pipe: errIrregular, dir: errFolder, "/dev/zero": errIrregular, filepath.Join(dir, "gone"): os.ErrNotExist} {
		said := make(chan error, 1)
		go func() {
			_, err := readRegular(path, 1000)
			said <- err
		}()
		select {
		case err := <-said:
			if !errors.Is(err, want) {
				t.Errorf("%s: %v, want %v", path, err, want)
			}
		case <-time.After(10 * time.Second):
			t.Errorf("%s holds the run up", path)
		}
	}
}

// reviewsOf collects the reviews of a run, wherever they went.
func reviewsOf(t *testing.T, dir string, mode []string, stdout []byte) (all []finding.Review) {
	t.Helper()
	texts := [][]byte{stdout}
	if len(mode) > 2 {
		texts = nil
		names := []string{filepath.Join(dir, mode[3])}
		if mode[2] == "--out-dir" {
			names, _ = filepath.Glob(filepath.Join(dir, mode[3], "*.json"))
		}
		for _, name := range names {
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			texts = append(texts, data)
		}
	}
	for _, text := range texts {
		var got struct{ Reviews []finding.Review }
		if err := json.Unmarshal(text, &got); err != nil {
			t.Fatalf("%v: %v", mode, err)
		}
		all = append(all, got.Reviews...)
	}
	return all
}

// waitUntilAsleep waits until a process has been waiting for something for a
// while: all its threads sleep, ten times in a row.
func waitUntilAsleep(t *testing.T, pid int) {
	t.Helper()
	calm := 0
	for range 2000 {
		calm++
		tasks, err := filepath.Glob(fmt.Sprintf("/proc/%d/task/*/stat", pid))
		if err != nil || len(tasks) == 0 {
			t.Fatalf("the process %d is gone: %v", pid, err)
		}
		for _, task := range tasks {
			if stat, err := os.ReadFile(task); err == nil {
				if _, state, _ := strings.Cut(string(stat), ") "); !strings.HasPrefix(state, "S") {
					calm = 0
				}
			}
		}
		if calm == 10 {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Fatalf("the process %d does not come to rest", pid)
}

// TestFolderOfFilesIsWholeOrNone holds that of the files of an exercise none is
// written where one does not fit.
func TestFolderOfFilesIsWholeOrNone(t *testing.T) {
	dir := smallDisk(t, "64k")
	err := writeFolder(filepath.Join(dir, "exercise"), []namedFile{{"task.md", []byte("task")}, {"key.age", make([]byte, 1<<20)}})
	if want := "writing " + filepath.Join(dir, "exercise") + ": no space left on device"; err == nil || err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
	onlyThere(t, dir)
}

// TestFileThatGrows holds that what is appended while a file is read neither
// makes it endless nor passes the limit.
func TestFileThatGrows(t *testing.T) {
	file := filepath.Join(t.TempDir(), "d.json")
	if err := os.WriteFile(file, bytes.Repeat([]byte(" "), 1000), 0o644); err != nil {
		t.Fatal(err)
	}
	stop := make(chan struct{})
	grown := make(chan struct{})
	go func() {
		defer close(grown)
		f, err := os.OpenFile(file, os.O_APPEND|os.O_WRONLY, 0)
		if err != nil {
			return
		}
		defer f.Close()
		for {
			select {
			case <-stop:
				return
			default:
				f.Write(bytes.Repeat([]byte(" "), 10_000)) //nolint:errcheck
			}
		}
	}()
	defer func() { close(stop); <-grown }()
	for range 50 {
		data, err := input{name: file}.read(t.Context(), nil, 1_000_000)
		var large *tooLarge
		if len(data) > 1_000_001 || err != nil && !errors.As(err, &large) {
			t.Fatalf("%d bytes, %v", len(data), err)
		}
	}
}

// TestInterrupts holds for what --output, standard output and a stream are
// told: once to end cleanly, twice to end at once.
func TestInterrupts(t *testing.T) {
	in := folder(t, 400)
	for _, signal := range []os.Signal{os.Interrupt, syscall.SIGTERM} {
		for _, format := range []string{"text", "sarif", "html", "csv"} {
			dir := t.TempDir()
			file := filepath.Join(dir, "report")
			cmd, stderr := backpitch(t, "review", "--jobs", "1", "--format", format, "--output", file, in)
			interrupt(t, cmd, signal, func() { waitForEntries(t, dir, 1) })
			if !strings.HasSuffix(stderr.String(), "designs were reviewed; "+file+" is left as it was\n") {
				t.Errorf("%s, %v: %s", format, signal, stderr)
			}
			onlyThere(t, dir)

			cmd, stderr = backpitch(t, "review", "--jobs", "1", "--format", format, "--output", file, "-", in)
			twice(t, cmd, signal, func() { waitForEntries(t, dir, 1) })
			onlyThere(t, dir)
			if !strings.HasPrefix(stderr.String(), "backpitch: interrupted") {
				t.Errorf("%s, %v twice: %s", format, signal, stderr)
			}
		}
		// A stream that nobody goes on with.
		for _, args := range [][]string{nil, {"--output", "report"}} {
			dir := t.TempDir()
			cmd, stderr := backpitch(t, append([]string{"review", "--stream"}, args...)...)
			cmd.Dir = dir
			stdin, err := cmd.StdinPipe()
			if err != nil {
				t.Fatal(err)
			}
			out, err := cmd.StdoutPipe()
			if err != nil {
				t.Fatal(err)
			}
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			if _, err := stdin.Write(append(flat(t, sketch), '\n')); err != nil {
				t.Fatal(err)
			}
			if args == nil { // its answer comes before the interrupt
				answer := make([]byte, 10)
				if _, err := io.ReadFull(out, answer); err != nil {
					t.Fatal(err)
				}
			} else {
				waitForEntries(t, dir, 1)
				waitUntilAsleep(t, cmd.Process.Pid)
			}
			if err := cmd.Process.Signal(signal); err != nil {
				t.Fatal(err)
			}
			io.Copy(io.Discard, out) //nolint:errcheck
			cmd.Wait()               //nolint:errcheck
			want := "backpitch: interrupted after 1 designs of the stream\n"
			if args != nil {
				want = "backpitch: interrupted after 1 designs of the stream; report is left as it was\n"
			}
			if code := cmd.ProcessState.ExitCode(); code != exitNotChecked || stderr.String() != want {
				t.Errorf("stream %v, %v: exit %d, %s", args, signal, code, stderr)
			}
			onlyThere(t, dir)
		}
		// Commands that wait for standard input, or for a pipe that nobody writes to.
		pipe := filepath.Join(t.TempDir(), "pipe")
		if err := syscall.Mkfifo(pipe, 0o644); err != nil {
			t.Fatal(err)
		}
		for _, args := range [][]string{{"calcs", "-"}, {"facts", "-"}, {"draw", "-"}, {"backcheck", "-", studio}, {"review", "-"}, {"review", pipe},
			{"review", "--stream", pipe}, {"calcs", pipe}, {"review", "--approvals", pipe, studio}, {"review", "--bundle", pipe, studio}, {"review", "--profile", "ipc-2021,chicago", "-"}} {
			cmd, stderr := backpitch(t, args...)
			cmd.Dir = root
			stdin, err := cmd.StdinPipe()
			if err != nil {
				t.Fatal(err)
			}
			interrupt(t, cmd, signal, func() { waitUntilAsleep(t, cmd.Process.Pid) })
			stdin.Close()
			if !strings.HasPrefix(stderr.String(), "backpitch: interrupted") || strings.Contains(stderr.String(), "twice") {
				t.Errorf("%v, %v: %s", args, signal, stderr)
			}
		}
	}
}

// TestInterruptedTwice holds that a run that cannot end, because nobody takes
// its report, ends at the second signal.
func TestInterruptedTwice(t *testing.T) {
	in := folder(t, 100)
	for _, args := range [][]string{{"--format", "json"}, {"--format", "json,csv", "--out-dir", t.TempDir()}} {
		for _, signal := range []os.Signal{os.Interrupt, syscall.SIGTERM} {
			r, w, err := os.Pipe()
			if err != nil {
				t.Fatal(err)
			}
			if _, _, e := syscall.Syscall(syscall.SYS_FCNTL, w.Fd(), syscall.F_SETPIPE_SZ, 4096); e != 0 {
				t.Skipf("pipes cannot be made small here: %s", e)
			}
			cmd, stderr := backpitch(t, slices.Concat([]string{"review", "--jobs", "2"}, args, []string{in})...)
			cmd.Stdout = w
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			w.Close()
			waitUntilAsleep(t, cmd.Process.Pid)
			if err := cmd.Process.Signal(signal); err != nil {
				t.Fatal(err)
			}
			waitUntilAsleep(t, cmd.Process.Pid) // what is printed is to be finished, and waits
			if err := cmd.Process.Signal(signal); err != nil {
				t.Fatal(err)
			}
			cmd.Wait() //nolint:errcheck
			r.Close()
			if code := cmd.ProcessState.ExitCode(); code != exitNotChecked || stderr.String() != "backpitch: interrupted twice, and ended at once\n" {
				t.Errorf("%v, %v: exit %d, %s", args, signal, code, stderr)
			}
			if len(args) > 2 {
				content, hidden := files(t, args[3])
				if diff := cmp.Diff([]string{lockName, stateName}, hidden); diff != "" || len(content) == 0 {
					t.Errorf("%d reports; left behind (-want +got):\n%s", len(content), diff)
				}
			}
		}
	}
	// What has no name yet goes with it.
	dir := t.TempDir()
	l := leftovers{paths: map[string]bool{}}
	for _, name := range []string{"file", "folder", "finished"} {
		path := filepath.Join(dir, name)
		if name == "folder" {
			path = filepath.Join(path, "file")
		}
		if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o755), os.WriteFile(path, nil, 0o644)); err != nil {
			t.Fatal(err)
		}
		l.add(filepath.Join(dir, name))
	}
	l.drop(filepath.Join(dir, "finished"))
	l.remove()
	onlyThere(t, dir, "finished")
}

func twice(t *testing.T, cmd *exec.Cmd, signal os.Signal, when func()) {
	t.Helper()
	stdin, err := cmd.StdinPipe() // somebody who never answers
	if err != nil {
		t.Fatal(err)
	}
	defer stdin.Close()
	interrupt(t, cmd, signal, func() {
		when()
		if err := cmd.Process.Signal(signal); err != nil {
			t.Error(err)
		}
	})
}

// waitForEntries waits until a folder has n entries, hidden ones, too.
func waitForEntries(t *testing.T, dir string, n int) {
	t.Helper()
	for range 1000 {
		if entries, err := os.ReadDir(dir); err == nil && len(entries) >= n {
			return
		}
		time.Sleep(5 * time.Millisecond)
	}
	t.Fatalf("%s has no %d entries", dir, n)
}

// TestTwoRunsIntoOneFile holds that of two runs into one file one wins, whole.
func TestTwoRunsIntoOneFile(t *testing.T) {
	in, dir := folder(t, 20), t.TempDir()
	file := filepath.Join(dir, "report.json")
	var runs []*exec.Cmd
	for range 3 {
		cmd, _ := backpitch(t, "review", "--format", "json", "--output", file, in)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		runs = append(runs, cmd)
	}
	for _, cmd := range runs {
		cmd.Wait() //nolint:errcheck
		if code := cmd.ProcessState.ExitCode(); code != exitNotChecked {
			t.Errorf("exit %d", code)
		}
	}
	want, _, _ := command(t, "review", "--format", "json", in)
	if data, err := os.ReadFile(file); err != nil || string(data) != want {
		t.Errorf("the report is not whole: %v", err)
	}
	onlyThere(t, dir, "report.json")
}

// TestStandardInputClosed holds that a command without standard input says so
// and judges what else is named.
func TestStandardInputClosed(t *testing.T) {
	cmd := exec.Command("sh", "-c", `exec backpitch review --format csv --fail-on never - "$1" <&-`, "sh", studio)
	stdout := fails(t, cmd, "")
	if !strings.Contains(stdout, `-:1:1: the file is empty`) || !strings.Contains(stdout, studio+",Pottery studio") {
		t.Error(stdout)
	}
}
