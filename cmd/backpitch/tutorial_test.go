package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// TestTutorial does what policies/README.md tells its reader to do: saves the
// files it shows, runs the commands of its console blocks in an empty folder,
// and holds that they print what it says they print. -update rewrites the
// outputs.
func TestTutorial(t *testing.T) {
	file := filepath.Join(root, "policies", "README.md")
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	dir, out := t.TempDir(), strings.Builder{}
	commands, files, save := 0, 0, ""
	lines := strings.SplitAfter(string(text), "\n")
	for i := 0; i < len(lines); i++ {
		out.WriteString(lines[i])
		if name, ok := strings.CutPrefix(lines[i], "<!-- file: "); ok {
			save = strings.TrimSuffix(strings.TrimSpace(name), " -->")
			continue
		}
		info, fence := strings.CutPrefix(lines[i], "```")
		if !fence {
			continue
		}
		body, end := fencedBlock(t, lines, i)
		if strings.HasPrefix(info, "console") {
			shown, n := playConsole(t, dir, strings.TrimSpace(info), body)
			body, commands = shown, commands+n
		} else if save != "" {
			saveAs(t, filepath.Join(dir, filepath.FromSlash(save)), body)
			files++
		}
		save = ""
		out.WriteString(body)
		out.WriteString(lines[end])
		i = end
	}
	if commands < 9 || files < 4 {
		t.Errorf("the tutorial has %d commands and %d files", commands, files)
	}
	golden(t, file, out.String())
}

// fencedBlock returns what stands between the fence at line i and the next.
func fencedBlock(t *testing.T, lines []string, i int) (body string, end int) {
	t.Helper()
	for end = i + 1; end < len(lines); end++ {
		if strings.HasPrefix(lines[end], "```") {
			return strings.Join(lines[i+1:end], ""), end
		}
	}
	t.Fatalf("line %d: the fence is not closed", i+1)
	return "", 0
}

func saveAs(t *testing.T, path, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// playConsole runs the commands of a block and returns it with what they print
// now. The last one ends with the code that the fence states.
func playConsole(t *testing.T, dir, info, body string) (shown string, commands int) {
	t.Helper()
	want := "0"
	if code, ok := strings.CutPrefix(info, "console exit="); ok {
		want = code
	}
	var out strings.Builder
	last := 0
	for line := range strings.Lines(body) {
		command, ok := strings.CutPrefix(line, "$ ")
		if !ok {
			continue
		}
		commands++
		var printed bytes.Buffer
		c := exec.Command("sh", "-c", command)
		c.Dir, c.Stdout, c.Stderr = dir, &printed, &printed
		err := c.Run()
		var exit *exec.ExitError
		if err != nil && !errors.As(err, &exit) {
			t.Fatalf("%s: %v", command, err)
		}
		last = c.ProcessState.ExitCode()
		out.WriteString(line)
		out.Write(printed.Bytes())
	}
	if fmt.Sprint(last) != want {
		t.Errorf("the last command ended with %d, not %s:\n%s", last, want, out.String())
	}
	return out.String(), commands
}
