package main

import (
	"context"
	"io"
	"io/fs"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"backpitch/engine/policy"
	"backpitch/policies"
)

// TestScaffoldIsStockRego holds that a scaffold compiles in strict mode and
// passes its tests with stock functions alone, beside nothing but lib.
func TestScaffoldIsStockRego(t *testing.T) {
	dir := t.TempDir()
	for _, args := range [][]string{
		{"profile", "new", "my-town", "--amends", "ipc-2021"},
		{"rule", "new", "trench/too_deep", "--profile", "my-town"},
		{"rule", "new", "trench/unshored"},
	} {
		args = append(append([]string{"backpitch"}, args...), "--policies", dir)
		if code := run(context.Background(), args, strings.NewReader(""), io.Discard, os.Stderr); code != exitClean {
			t.Fatalf("%v: exit %d", args, code)
		}
	}
	fsys := overlay{top: os.DirFS(dir), base: onlyLib(t)}
	if err := policy.Check(fsys); err != nil {
		t.Errorf("checking the scaffold: %v", err)
	}
	results, coverage, err := policy.RunTests(t.Context(), fsys, true)
	if err != nil {
		t.Fatal(err)
	}
	kinds := map[string]int{}
	for _, r := range results {
		if r.Failed {
			t.Errorf("%s:%d: %s: %s", r.File, r.Line, r.Name, r.Message)
		}
		for _, kind := range []string{"test_pass", "test_fail", "test_boundary", "test_open", "test_not_subject"} {
			if strings.HasPrefix(r.Name, kind) {
				kinds[kind]++
			}
		}
	}
	if len(kinds) != 5 || kinds["test_boundary"] != 3*2 {
		t.Errorf("the scaffold's tests are of the kinds %v, want five kinds and two boundary tests for each of three rules", kinds)
	}
	for file, percent := range coverage.Percent {
		if !strings.HasPrefix(file, "lib/") && percent != 100 {
			t.Errorf("%s: %v %% is covered, lines %v are not", file, percent, coverage.NotCovered[file])
		}
	}
}

// onlyLib is the helpers without rules and profiles.
func onlyLib(t *testing.T) fs.FS {
	t.Helper()
	out := fstest.MapFS{}
	for _, name := range []string{"lib/judge.rego", "lib/table.rego"} {
		data, err := fs.ReadFile(policies.FS(), name)
		if err != nil {
			t.Fatal(err)
		}
		out[name] = &fstest.MapFile{Data: data}
	}
	return out
}

func TestInsertKeepsWhatStandsThere(t *testing.T) {
	for _, tt := range []struct{ name, before, after string }{
		{"into an object with members", "{\n  \"a\": {\n    \"x\": 1\n  }\n}\n", "{\n  \"a\": {\n    \"x\": 1,\n    \"new\": 2\n  }\n}\n"},
		{"into an empty object", "{\n  \"a\": {}\n}\n", "{\n  \"a\": {\n    \"new\": 2\n  }\n}\n"},
		{"into an object on one line", `{ "a": { "x":1 } }`, "{ \"a\": { \"x\":1,\n    \"new\": 2\n  } }"},
		{"where the object is missing", "{\n  \"b\":   [1,2]\n}\n", "{\n  \"b\":   [1,2],\n  \"a\": {\n    \"new\": 2\n  }\n}\n"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got, err := insert([]byte(tt.before), []addition{{"a", "new", "2"}})
			if err != nil || string(got) != tt.after {
				t.Errorf("insert = %q, %v, want %q", got, err, tt.after)
			}
		})
	}
	for name, text := range map[string]string{"a member that is there": `{"a":{"new":1}}`, "a list": `[]`, "no object": `{"a":1}`, "no JSON": `{`} {
		if _, err := insert([]byte(text), []addition{{"a", "new", "2"}}); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}
