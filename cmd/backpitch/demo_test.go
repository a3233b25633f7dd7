package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"backpitch/engine/finding"
)

// The demo is invented: a pottery studio under a row house.
const (
	studio = "testdata/designs/pottery-studio.json"
	flawed = "testdata/designs/pottery-studio-flawed.json"
	sketch = "testdata/designs/pottery-studio-sketch.json"
)

func reviewed(t *testing.T, args ...string) ([]finding.Review, int) {
	t.Helper()
	stdout, stderr, code := command(t, append([]string{"review", "--format", "json"}, args...)...)
	if stderr != "" {
		t.Fatalf("stderr: %s", stderr)
	}
	var report struct{ Reviews []finding.Review }
	if err := json.Unmarshal([]byte(stdout), &report); err != nil {
		t.Fatal(err)
	}
	return report.Reviews, code
}

func TestStudioHasNoFailure(t *testing.T) {
	reviews, code := reviewed(t, studio)
	c := reviews[0].Counts
	if code != exitClean || c.Fail != 0 || c.Open != 0 || c.Pass < 200 {
		t.Errorf("exit %d, %+v; want exit 0, no failure, nothing open and more than 200 passes", code, c)
	}
}

// TestFlawedStudio holds that every planted fault is found and nothing else
// fails. The list beside the design says what was planted where.
func TestFlawedStudio(t *testing.T) {
	reviews, code := reviewed(t, flawed)
	if code != exitFindings {
		t.Errorf("exit %d, want %d", code, exitFindings)
	}
	var got []string
	for _, f := range reviews[0].Findings {
		if f.Outcome == finding.Fail || f.Outcome == finding.Open {
			got = append(got, fmt.Sprintf("%s %s %s", f.Outcome, f.Rule, f.Subject))
		}
	}
	slices.Sort(got)
	want := plantedFaults(t)
	if len(want) < 15 {
		t.Errorf("%d planted faults, want at least 15", len(want))
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("failures differ from the planted faults (-planted +found):\n%s", diff)
	}
	families := map[string]bool{}
	for _, line := range want {
		families[strings.SplitN(strings.Fields(line)[1], "/", 2)[0]] = true
	}
	for _, family := range []string{"fixture", "drain", "cleanout", "trap_arm", "vent", "air_admittance", "basin", "pump", "discharge"} {
		if !families[family] {
			t.Errorf("no fault of family %s is planted", family)
		}
	}
}

// plantedFaults reads "outcome rule subject: why" lines.
func plantedFaults(t *testing.T) []string {
	t.Helper()
	data, err := os.ReadFile("testdata/designs/pottery-studio-flawed.faults.txt")
	if err != nil {
		t.Fatal(err)
	}
	var want []string
	for line := range strings.Lines(string(data)) {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		what, why, ok := strings.Cut(line, ": ")
		if !ok || why == "" {
			t.Errorf("a planted fault without a reason: %q", line)
		}
		want = append(want, what)
	}
	slices.Sort(want)
	return want
}

// TestSketchIsOpen holds that a sketch that states nothing gets no pass for
// what it does not state.
func TestSketchIsOpen(t *testing.T) {
	reviews, code := reviewed(t, sketch)
	c := reviews[0].Counts
	if code != exitClean || c.Fail != 0 || c.Open < 100 {
		t.Errorf("exit %d, %+v; want exit 0, no failure, more than 100 open", code, c)
	}
	unstated := []string{
		"drain/too_flat", "drain/back_pitched", "fixture/trap_missing", "fixture/trap_seal_out_of_range", "trap_arm/too_short",
		"basin/not_gas_tight", "basin/too_small", "basin/level_floods_inlet", "basin/inlet_undersized", "pump/solids_too_small",
		"pump/rate_too_low", "pump/cannot_lift", "discharge/too_small", "discharge/valve_not_accessible", "discharge/shutoff_not_full_open",
		"discharge/connects_wrongly", "discharge/overloads_receiver", "vent/too_small", "vent/terminal_too_low", "vent/terminal_near_opening",
		"backwater/missing",
	}
	for _, rule := range unstated {
		seen := 0
		for _, f := range reviews[0].Findings {
			if f.Rule != rule {
				continue
			}
			seen++
			if f.Outcome != finding.Open || len(f.Missing) == 0 {
				t.Errorf("%s for %s: %s missing %v; the sketch does not state it, so it is open", rule, f.Subject, f.Outcome, f.Missing)
			}
		}
		if seen == 0 {
			t.Errorf("%s has no subject in the sketch", rule)
		}
	}
}

func TestFailOnOpen(t *testing.T) {
	if _, _, code := command(t, "review", "--fail-on", "open", sketch); code != exitFindings {
		t.Errorf("--fail-on open on the sketch: exit %d, want %d", code, exitFindings)
	}
}

// TestTextOfTheDemo keeps the words people read.
func TestTextOfTheDemo(t *testing.T) {
	for _, file := range []string{studio, flawed} {
		t.Run(filepath.Base(file), func(t *testing.T) {
			stdout, _, _ := command(t, "review", file)
			golden(t, strings.TrimSuffix(file, ".json")+".review.txt", stdout)
		})
	}
}
