package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"backpitch/engine/limit"
	"backpitch/engine/report"
)

// TestReadmeShowsRealOutput holds that what README prints is what the command
// prints today; -update rewrites it.
func TestReadmeShowsRealOutput(t *testing.T) {
	stdout, _, _ := command(t, "review", flawed)
	design, err := os.ReadFile(flawed)
	if err != nil {
		t.Fatal(err)
	}
	var cautions strings.Builder
	for _, c := range report.Cautions {
		cautions.WriteString("- " + c + "\n")
	}
	readme, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	text := string(readme)
	for name, content := range map[string]string{
		"input":    fenced("json", lineWith(t, string(design), `"id": "wet-2"`)),
		"output":   fenced("", blockWith(t, stdout, "error drain/too_flat")),
		"close":    fenced("", closing(t, stdout)),
		"cautions": cautions.String(),
		"limits":   limitTable(),
	} {
		text = between(t, text, name, content)
	}
	golden(t, filepath.Join(root, "README.md"), text)
}

// limitTable is the table of limits, as the code has it.
func limitTable() string {
	var b strings.Builder
	b.WriteString("| flag | at most | default | because |\n| --- | --- | --- | --- |\n")
	for _, l := range limit.All {
		said := l.Said
		if said == "" {
			said = strconv.Itoa(l.Default)
		}
		fmt.Fprintf(&b, "| `--%s` | %s | %s | %s |\n", l.Name, l.Bounds, said, l.Why)
	}
	return b.String()
}

func fenced(language, content string) string {
	return "```" + language + "\n" + content + "\n```\n"
}

func lineWith(t *testing.T, text, part string) string {
	t.Helper()
	for line := range strings.Lines(text) {
		if strings.Contains(line, part) {
			return strings.TrimSuffix(strings.TrimSpace(line), ",")
		}
	}
	t.Fatalf("no line has %q", part)
	return ""
}

// blockWith returns the finding whose first line has part.
func blockWith(t *testing.T, text, part string) string {
	t.Helper()
	for _, block := range strings.Split(text, "\n\n") {
		if first, _, _ := strings.Cut(block, "\n"); strings.Contains(first, part) {
			return block
		}
	}
	t.Fatalf("no finding has %q", part)
	return ""
}

func closing(t *testing.T, text string) string {
	t.Helper()
	for _, block := range strings.Split(text, "\n\n") {
		if strings.Contains(block, "subjects checked by") {
			return block
		}
	}
	t.Fatal("no closing line")
	return ""
}

// between puts content between the marks of that name.
func between(t *testing.T, text, name, content string) string {
	t.Helper()
	head, rest, ok := strings.Cut(text, "<!-- begin "+name+" -->\n")
	_, tail, ok2 := strings.Cut(rest, "<!-- end "+name+" -->")
	if !ok || !ok2 {
		t.Fatalf("README has no marks for %s", name)
	}
	return head + "<!-- begin " + name + " -->\n" + content + "<!-- end " + name + " -->" + tail
}
