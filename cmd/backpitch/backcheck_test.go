package main

import (
	"encoding/json"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"backpitch/engine/finding"
)

// resubmitted writes a design again under another name, on other lines, its
// keys and its lists of elements in another order; edit changes it before.
func resubmitted(t *testing.T, file string, edit func(design map[string]any)) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(root, file))
	if err != nil {
		t.Fatal(err)
	}
	var design map[string]any
	if err := json.Unmarshal(data, &design); err != nil {
		t.Fatal(err)
	}
	if edit != nil {
		edit(design)
	}
	order := rand.New(rand.NewPCG(7, 7))
	for _, v := range design {
		if list, ok := v.([]any); ok {
			order.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
		}
	}
	out, err := json.MarshalIndent(design, "", "        ")
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "resubmittal.json")
	if err := os.WriteFile(path, out, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// renameIDs gives every element another id, and names it so wherever it is named.
func renameIDs(design map[string]any) {
	ids := map[string]bool{}
	var collect func(v any)
	collect = func(v any) {
		switch v := v.(type) {
		case map[string]any:
			if id, ok := v["id"].(string); ok {
				ids[id] = true
			}
			for _, x := range v {
				collect(x)
			}
		case []any:
			for _, x := range v {
				collect(x)
			}
		}
	}
	collect(design)
	names := map[string]bool{"id": true, "from": true, "to": true, "run": true, "basin": true, "pump": true}
	var rename func(v any)
	rename = func(v any) {
		switch v := v.(type) {
		case map[string]any:
			for key, x := range v {
				if id, ok := x.(string); ok && names[key] && ids[id] {
					v[key] = "new." + id
				}
				if list, ok := x.([]any); ok && key == "fixtures" {
					for i, x := range list {
						if id, ok := x.(string); ok {
							list[i] = "new." + id
						}
					}
				}
				rename(x)
			}
		case []any:
			for _, x := range v {
				rename(x)
			}
		}
	}
	rename(design)
}

func backchecked(t *testing.T, args ...string) (finding.Backcheck, int) {
	t.Helper()
	stdout, stderr, code := command(t, append([]string{"backcheck", "--format", "json"}, args...)...)
	if stderr != "" {
		t.Fatalf("stderr: %s", stderr)
	}
	var report struct{ Backcheck finding.Backcheck }
	if err := json.Unmarshal([]byte(stdout), &report); err != nil {
		t.Fatal(err)
	}
	return report.Backcheck, code
}

// TestFingerprintsSurviveResubmittal: another file name, other lines and
// another order of everything change no fingerprint and no outcome.
func TestFingerprintsSurviveResubmittal(t *testing.T) {
	prints := func(file string) []string {
		reviews, _ := reviewed(t, file)
		var list []string
		for _, f := range reviews[0].Findings {
			list = append(list, f.Fingerprint+" "+string(f.Outcome)+" "+f.Rule+" "+f.Subject)
		}
		slices.Sort(list)
		return list
	}
	then := prints(flawed)
	if diff := cmp.Diff(then, prints(resubmitted(t, flawed, nil))); diff != "" || len(then) < 200 {
		t.Errorf("%d findings; -then +now:\n%s", len(then), diff)
	}
}

func TestBackcheckOfTheSameDesignWrittenAnew(t *testing.T) {
	for name, edit := range map[string]func(map[string]any){"same ids": nil, "other ids": renameIDs} {
		t.Run(name, func(t *testing.T) {
			b, code := backchecked(t, flawed, resubmitted(t, flawed, edit))
			c := b.Counts
			if code != exitFindings || c.New+c.Corrected+c.Dropped+c.ChangedAnswers != 0 || c.Outstanding < 40 {
				t.Errorf("exit %d, %+v; want nothing but outstanding", code, c)
			}
			for _, i := range b.Items {
				if i.Part != finding.Unchanged || i.Status != finding.Outstanding || i.Changed {
					t.Errorf("%s %s %s (was %q): part %s", i.Status, i.Rule, i.Subject, i.EarlierSubject, i.Part)
				}
			}
			e := b.Elements
			if len(e.Changed)+len(e.Added)+len(e.Removed) != 0 || e.Unchanged < 40 {
				t.Errorf("elements: %d unchanged, changed %v, added %v, removed %v", e.Unchanged, e.Changed, e.Added, e.Removed)
			}
		})
	}
}

// pipe is a pipe of a design.
func pipe(t *testing.T, design map[string]any, id string) map[string]any {
	t.Helper()
	for _, p := range design["pipes"].([]any) {
		if p := p.(map[string]any); p["id"] == id {
			return p
		}
	}
	t.Fatalf("no pipe %q", id)
	return nil
}

// TestBackcheckOfOneCorrection: one pipe is mended, one changed but not
// enough; a design and its saved review give the same.
func TestBackcheckOfOneCorrection(t *testing.T) {
	later := resubmitted(t, flawed, func(d map[string]any) {
		pipe(t, d, "wet-2")["slope"] = "1/4 in/ft"
		pipe(t, d, "floor-drain-run")["slope"] = "-1/8 in/ft"
	})
	saved := filepath.Join(t.TempDir(), "saved.json")
	if _, stderr, code := command(t, "review", "--format", "json", "--output", saved, flawed); code != exitFindings || stderr != "" {
		t.Fatalf("exit %d, %s", code, stderr)
	}
	b, code := backchecked(t, flawed, later)
	fromSaved, savedCode := backchecked(t, saved, later)
	if diff := cmp.Diff(b, fromSaved); diff != "" || code != savedCode {
		t.Errorf("the design and its saved review differ (exit %d and %d):\n%s", code, savedCode, diff)
	}
	status := map[string]finding.Item{}
	for _, i := range b.Items {
		status[i.Rule+" "+i.Subject] = i
	}
	if i := status["drain/too_flat wet-2"]; i.Status != finding.Corrected || i.Part != finding.Altered {
		t.Errorf("wet-2: %+v, want corrected", i)
	}
	if i := status["drain/back_pitched floor-drain-run"]; i.Status != finding.Outstanding || !i.Changed {
		t.Errorf("floor-drain-run: %+v, want outstanding with another answer", i)
	}
	if i := status["drain/material_not_permitted main-2"]; i.Status != finding.Outstanding || i.Changed || i.Part != finding.Unchanged {
		t.Errorf("main-2: %+v, want outstanding", i)
	}
	if len(b.Elements.Changed) != 2 {
		t.Errorf("changed %+v, want two pipes", b.Elements.Changed)
	}
}

// TestWrittenBaselineHolds: what backcheck writes and what review reads fit.
func TestWrittenBaselineHolds(t *testing.T) {
	later := resubmitted(t, flawed, func(d map[string]any) { pipe(t, d, "main-2")["length"] = "6 ft" })
	file := filepath.Join(t.TempDir(), "baseline.json")
	if _, stderr, _ := command(t, "backcheck", "--write-baseline", file, flawed, later); stderr != "" {
		t.Fatal(stderr)
	}
	reviews, _ := reviewed(t, "--baseline", file, later)
	c := reviews[0].Counts
	if c.Baseline < 30 || c.Fail != c.Errors+c.Warnings+c.Notes+c.Baseline || len(reviews[0].Notices) != 0 {
		t.Errorf("%+v, notices %v", c, reviews[0].Notices)
	}
	for _, f := range reviews[0].Findings {
		if f.Subject == "main-2" && f.Outcome == finding.Fail && f.Baseline != "" {
			t.Errorf("%s for main-2 is called existing work, but main-2 was changed", f.Rule)
		}
	}
}
