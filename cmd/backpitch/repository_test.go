package main

import (
	"encoding/json"
	"encoding/xml"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// script is what README prints between two marks, without its fence.
func script(t *testing.T, name string) string {
	t.Helper()
	readme, err := os.ReadFile(filepath.Join(root, "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	_, rest, ok := strings.Cut(string(readme), "<!-- begin "+name+" -->\n```sh\n")
	text, _, ok2 := strings.Cut(rest, "```\n<!-- end "+name+" -->")
	if !ok || !ok2 {
		t.Fatalf("README has no marks for %s", name)
	}
	return text
}

// repository is a new one with a folder for designs.
func repository(t *testing.T) (dir string, git func(args ...string) (string, error)) {
	t.Helper()
	if _, err := exec.LookPath("git"); err != nil {
		t.Skip("git is not installed")
	}
	dir = t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, "designs"), 0o755); err != nil {
		t.Fatal(err)
	}
	git = func(args ...string) (string, error) {
		cmd := exec.Command("git", append([]string{"-c", "user.name=x", "-c", "user.email=x@example.org"}, args...)...)
		cmd.Dir = dir
		cmd.Env = append(os.Environ(), "GIT_CONFIG_GLOBAL="+os.DevNull, "GIT_CONFIG_SYSTEM="+os.DevNull)
		out, err := cmd.CombinedOutput()
		return string(out), err
	}
	if out, err := git("init", "-q"); err != nil {
		t.Fatal(out)
	}
	return dir, git
}

func copyDesign(t *testing.T, from, to string) {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(root, from))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(to, data, 0o644); err != nil {
		t.Fatal(err)
	}
}

// TestReadmeHook holds that the hook of README refuses a commit of what fails,
// as it is staged, and no other.
func TestReadmeHook(t *testing.T) {
	dir, git := repository(t)
	if err := os.WriteFile(filepath.Join(dir, ".git", "hooks", "pre-commit"), []byte(script(t, "hook")), 0o755); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(dir, "designs", "a design.json")
	commit := func(want bool, why string) {
		t.Helper()
		out, err := git("commit", "-q", "--allow-empty", "-m", "x")
		if (err == nil) != want {
			t.Errorf("%s: commit accepted: %v\n%.2000s", why, err == nil, out)
		}
	}
	commit(true, "nothing is staged")
	copyDesign(t, studio, file)
	git("add", "designs") //nolint:errcheck // the commit shows it
	commit(true, "a sound design")
	copyDesign(t, flawed, file)
	commit(true, "a flawed design that is not staged")
	git("add", "designs") //nolint:errcheck
	commit(false, "a flawed design")
	copyDesign(t, studio, file)
	commit(false, "a flawed design is staged, and mended only in the folder")
	git("add", "designs") //nolint:errcheck
	commit(true, "the design is mended")
	git("rm", "-q", "designs/a design.json") //nolint:errcheck
	commit(true, "the design is taken out")
}

// TestReadmeJob holds that the CI job of README leaves its reports and ends as
// the designs deserve.
func TestReadmeJob(t *testing.T) {
	dir, _ := repository(t)
	job := func() (string, int) {
		cmd := exec.Command("sh", "-e", "-c", script(t, "job"))
		cmd.Dir = dir
		out, _ := cmd.CombinedOutput()
		return string(out), cmd.ProcessState.ExitCode()
	}
	copyDesign(t, studio, filepath.Join(dir, "designs", "a.json"))
	if out, code := job(); code != exitClean || strings.Contains(out, "::error") {
		t.Errorf("a sound design: exit %d\n%s", code, out)
	}
	copyDesign(t, flawed, filepath.Join(dir, "designs", "b.json"))
	out, code := job()
	if code != exitFindings || !strings.Contains(out, "::error file=designs/b.json,line=") {
		t.Errorf("a flawed design: exit %d\n%s", code, out)
	}
	for _, name := range []string{"designs.sarif", "codequality.json"} {
		if data, err := os.ReadFile(filepath.Join(dir, name)); err != nil || !json.Valid(data) {
			t.Errorf("%s: %v", name, err)
		}
	}
	data, err := os.ReadFile(filepath.Join(dir, "junit.xml"))
	if err != nil {
		t.Fatal(err)
	}
	var suites struct {
		Suites []struct {
			Failures int `xml:"failures,attr"`
		} `xml:"testsuite"`
	}
	if err := xml.Unmarshal(data, &suites); err != nil || len(suites.Suites) != 2 || suites.Suites[0].Failures != 0 || suites.Suites[1].Failures == 0 {
		t.Errorf("junit.xml: %+v, %v", suites, err)
	}
}
