package main

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "rewrite the expected outputs")

// root is the top of the repository.
var root = func() string {
	dir, err := filepath.Abs(filepath.Join("..", ".."))
	if err != nil {
		panic(err)
	}
	return dir
}()

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"backpitch": withoutSockets(main), "dial": dial})
}

// TestScripts runs the command as people and CI jobs do.
func TestScripts(t *testing.T) {
	designs, err := filepath.Abs(filepath.Join("..", "..", "testdata", "designs"))
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:                 filepath.Join("..", "..", "testdata", "scripts"),
		RequireUniqueNames:  true,
		RequireExplicitExec: true,
		UpdateScripts:       *update,
		Condition: func(word string) (bool, error) {
			if word == "race" {
				return raceDetector, nil
			}
			return false, fmt.Errorf("unknown condition %q", word)
		},
		Setup: func(e *testscript.Env) error {
			e.Setenv("DESIGNS", designs)
			return nil
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"make":      makeHostile,
			"make-keys": makeKeys,
		},
	})
}

// makeHostile writes a file that is too unwieldy for a script:
// make deep|digits|large|utf16|bom|binary FILE.
func makeHostile(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: make KIND FILE")
	}
	var data []byte
	switch args[0] {
	case "deep":
		data = []byte(strings.Repeat(`{"project":`, 100_000))
	case "digits":
		data = []byte(`{"project":{"name":"x"},"building":{"storeys":` + strings.Repeat("9", 1_000_000) + `}}`)
	case "large":
		data = []byte(`{"project":{"name":"` + strings.Repeat("x", 50<<20) + `"}}`)
	case "utf16":
		data = []byte{0xff, 0xfe}
		for _, r := range `{"project":{"name":"x"}}` {
			data = append(data, byte(r), 0)
		}
	case "bom":
		data = append([]byte{0xef, 0xbb, 0xbf}, `{"project":{"name":"x"},"building":{}}`...)
	case "binary":
		data = []byte{0, 1, 2, 3, 255, 254}
	default:
		ts.Fatalf("no kind %q", args[0])
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), data, 0o644))
}

// command runs backpitch from the top of the repository, so that places in
// its output do not depend on where the test runs.
func command(t *testing.T, args ...string) (stdout, stderr string, code int) {
	t.Helper()
	t.Chdir(root)
	var out, errs bytes.Buffer
	code = run(context.Background(), append([]string{"backpitch"}, args...), strings.NewReader(""), &out, &errs)
	return out.String(), errs.String(), code
}

// golden compares got with a file, or rewrites it with -update.
func golden(t *testing.T, file, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("output differs from %s (-want +got); -update rewrites it:\n%s", file, diff)
	}
}
