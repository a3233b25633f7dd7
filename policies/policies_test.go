package policies_test

import (
	"fmt"
	"io/fs"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"backpitch/engine/policy"
	"backpitch/engine/profile"
	"backpitch/policies"
)

var disk = os.DirFS(".")

// chainOfAll names every profile, so that a catalogue holds every rule.
func chainOfAll(t *testing.T) []string {
	t.Helper()
	entries, err := fs.ReadDir(disk, "profiles")
	if err != nil {
		t.Fatal(err)
	}
	var ids []string
	for _, e := range entries {
		if e.IsDir() {
			ids = append(ids, e.Name())
		}
	}
	return ids
}

func report(t *testing.T, problems []string) {
	t.Helper()
	slices.Sort(problems)
	if len(problems) > 0 {
		t.Errorf("%d problems:\n%s", len(problems), strings.Join(slices.Compact(problems), "\n"))
	}
}

func TestRegoTestsPass(t *testing.T) {
	results, coverage, err := policy.RunTests(t.Context(), disk, true)
	if err != nil {
		t.Fatal(err)
	}
	var problems []string
	for _, r := range results {
		if r.Failed {
			problems = append(problems, fmt.Sprintf("%s:%d: %s failed: %s", r.File, r.Line, r.Name, r.Message))
		}
	}
	for file, percent := range coverage.Percent {
		if percent < 100 {
			problems = append(problems, fmt.Sprintf("%s: no test runs lines %v", file, coverage.NotCovered[file]))
		}
	}
	if len(results) < 26 {
		problems = append(problems, fmt.Sprintf("only %d Rego tests were found", len(results)))
	}
	report(t, problems)
}

// The catalogue checks METADATA, declared tables, facts and placeholders.
func TestEveryRuleIsSound(t *testing.T) {
	rules, err := policy.Catalogue(disk, chainOfAll(t)...)
	if err != nil {
		t.Error(err)
	}
	if len(rules) == 0 {
		t.Fatal("the catalogue is empty")
	}
}

// Stock OPA, strict, with the facts schema and no function of our own.
func TestStockOPACompilesEverything(t *testing.T) {
	if err := policy.Check(disk); err != nil {
		t.Error(err)
	}
}

func TestEveryRuleHasItsTests(t *testing.T) {
	results, _, err := policy.RunTests(t.Context(), disk, false)
	if err != nil {
		t.Fatal(err)
	}
	names := map[string][]string{}
	for _, r := range results {
		id := strings.ReplaceAll(strings.TrimSuffix(strings.TrimPrefix(r.Package, "rules."), "_test"), ".", "/")
		names[id] = append(names[id], r.Name)
	}
	rules, _ := policy.Catalogue(disk, chainOfAll(t)...)
	var problems []string
	for _, r := range rules {
		wanted := []string{"test_pass", "test_fail", "test_open", "test_not_subject"}
		if strings.HasPrefix(r.ID, "field/") {
			wanted = []string{"test_review", "test_not_subject"} // a person always decides
		}
		if r.Quantity != "" && !r.NoBoundary {
			wanted = append(wanted, "test_boundary")
		}
		for _, prefix := range wanted {
			if !slices.ContainsFunc(names[r.ID], func(n string) bool { return strings.HasPrefix(n, prefix) }) {
				problems = append(problems, fmt.Sprintf("%s: no test is called %s…", r.File, prefix))
			}
		}
	}
	report(t, problems)
}

func TestEveryProfileIsReady(t *testing.T) {
	adopted := map[string]bool{}
	var problems []string
	for _, id := range chainOfAll(t) {
		p, err := profile.Load(disk, id)
		if err != nil {
			problems = append(problems, err.Error())
			continue
		}
		for _, rule := range p.Rules() {
			adopted[rule] = true
		}
		prepared, err := policy.Prepare(t.Context(), disk, p)
		if err != nil {
			problems = append(problems, err.Error())
			continue
		}
		for _, rule := range prepared.Rules() {
			for _, table := range rule.Tables {
				if p.Table(table) == nil && !strings.HasPrefix(table, "fixture.") {
					problems = append(problems, fmt.Sprintf("profile %s adopts %s and has no table %s", id, rule.ID, table))
				}
			}
		}
	}
	rules, _ := policy.Catalogue(disk, chainOfAll(t)...)
	for _, r := range rules {
		if !adopted[r.ID] {
			problems = append(problems, fmt.Sprintf("%s: no profile adopts %s", r.File, r.ID))
		}
	}
	report(t, problems)
}

func TestEmbeddedIsWhatStandsHere(t *testing.T) {
	count := func(fsys fs.FS) map[string]int {
		n := map[string]int{}
		for _, root := range []string{"lib", "rules", "profiles"} {
			err := fs.WalkDir(fsys, root, func(file string, d fs.DirEntry, err error) error {
				if err == nil && !d.IsDir() {
					n[file]++
				}
				return err
			})
			if err != nil {
				t.Fatal(err)
			}
		}
		return n
	}
	if got, want := count(policies.FS()), count(disk); !maps.Equal(got, want) {
		t.Errorf("embedded are %d files, here stand %d", len(got), len(want))
	}
}
