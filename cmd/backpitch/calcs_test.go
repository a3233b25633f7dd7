package main

import (
	"encoding/json"
	"path/filepath"
	"testing"

	"backpitch/schema"
)

// TestStudioSheet holds the calculation sheet of the demo; read the difference
// before you commit it. Its results follow from its printed numbers: that is
// tested where the sheet is made.
func TestStudioSheet(t *testing.T) {
	stdout, stderr, code := command(t, "calcs", studio)
	if code != exitClean || stderr != "" {
		t.Fatalf("exit %d, stderr %s", code, stderr)
	}
	golden(t, filepath.Join(root, "testdata", "designs", "pottery-studio.calcs.txt"), stdout)
}

func TestSheetsFollowTheirSchema(t *testing.T) {
	s, err := schema.Compile("calcs")
	if err != nil {
		t.Fatal(err)
	}
	for _, design := range []string{studio, flawed, sketch} {
		for _, profile := range []string{"ipc-2021", "en-12056"} {
			stdout, stderr, code := command(t, "calcs", "--format", "json", "--profile", profile, design)
			if code != exitClean {
				t.Errorf("%s under %s: exit %d: %s", design, profile, code, stderr)
				continue
			}
			var v any
			if err := json.Unmarshal([]byte(stdout), &v); err != nil {
				t.Fatal(err)
			}
			if err := s.Validate(v); err != nil {
				t.Errorf("%s under %s: %#v", design, profile, err)
			}
		}
	}
}
