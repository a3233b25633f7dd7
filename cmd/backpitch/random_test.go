package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"backpitch/engine/report"
	"backpitch/schema"
	"backpitch/testdata/designs/random"
)

// randomSeeds is how many random designs a batch of the tests has.
var randomSeeds = flag.Uint("seeds", 12, "random designs in a batch")

// randomFolder writes random designs.
func randomFolder(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for seed := range uint64(*randomSeeds) {
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("random-%06d.json", seed)), random.Mixed(seed), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// TestRandomDesignsInABatch holds that the number of goroutines changes no byte
// and that JSON, as one document and by line, keeps to the schema of findings.
func TestRandomDesignsInABatch(t *testing.T) {
	in := randomFolder(t)
	review := func(format, jobs string) string {
		t.Helper()
		out, stderr, code := command(t, "review", "--profile", "ipc-2021", "--format", format, "--jobs", jobs, in)
		if code != exitFindings || stderr != "" {
			t.Fatalf("%s with %s jobs: exit %d, stderr %q", format, jobs, code, stderr)
		}
		return out
	}
	formats := []string{"ndjson"}
	if *randomSeeds > 12 {
		formats = report.Formats()
	}
	for _, format := range formats {
		one := review(format, "1")
		for _, jobs := range []string{"2", "8"} {
			if review(format, jobs) != one {
				t.Errorf("%s: 1 job and %s print different reports", format, jobs)
			}
		}
	}

	s, err := schema.Compile("findings")
	if err != nil {
		t.Fatal(err)
	}
	var whole map[string]any
	if err := json.Unmarshal([]byte(review("json", "2")), &whole); err != nil {
		t.Fatal(err)
	}
	if err := s.Validate(whole); err != nil {
		t.Errorf("the JSON report breaks its schema: %#v", err)
	}
	var lines []any
	for line := range strings.Lines(review("ndjson", "2")) {
		var r any
		if err := json.Unmarshal([]byte(line), &r); err != nil {
			t.Fatal(err)
		}
		lines = append(lines, r)
	}
	if len(lines) != int(*randomSeeds) || len(whole["reviews"].([]any)) != len(lines) {
		t.Errorf("%d lines and %d reviews of %d designs", len(lines), len(whole["reviews"].([]any)), *randomSeeds)
	}
	whole["reviews"] = slices.Clone(lines) // a line is a review
	if err := s.Validate(whole); err != nil {
		t.Errorf("the reviews by line break the schema: %#v", err)
	}
}
