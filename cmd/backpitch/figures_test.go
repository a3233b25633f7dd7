package main

import (
	"os"
	"path/filepath"
	"testing"
)

// The figures of every profile as people have read them: profiles/ID/figures.txt
// is what profile show ID prints. A figure that changes shows in it; -update
// rewrites it, and the difference is to be read.
func TestFiguresAreThoseKeptForReading(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(root, "policies", "profiles", "*", "profile.json"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no profiles: %v", err)
	}
	for _, file := range files {
		dir := filepath.Dir(file)
		id := filepath.Base(dir)
		stdout, stderr, code := command(t, "profile", "show", id, "--policies", "policies")
		if code != exitClean {
			t.Errorf("profile show %s: %s", id, stderr)
			continue
		}
		kept := filepath.Join(dir, "figures.txt")
		if *update {
			golden(t, kept, stdout)
			continue
		}
		if _, err := os.Stat(kept); err != nil {
			t.Errorf("%s: nobody has kept its figures; -update does, read them first", id)
			continue
		}
		golden(t, kept, stdout)
	}
}
