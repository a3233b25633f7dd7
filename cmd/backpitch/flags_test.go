package main

import (
	"io"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestFlagsMayStandAfterPaths(t *testing.T) {
	app := newApp(strings.NewReader(""), io.Discard, io.Discard)
	for _, c := range []struct{ in, want string }{
		{"backpitch review a.json --format json", "backpitch review --format json a.json"},
		{"backpitch review a.json -f json b.json", "backpitch review -f json a.json b.json"},
		{"backpitch review --format=json a.json -", "backpitch review --format=json a.json -"},
		{"backpitch review a.json -- --odd.json", "backpitch review a.json -- --odd.json"},
		{"backpitch review a.json --no-such-flag b.json", "backpitch review --no-such-flag a.json b.json"},
		{"backpitch profile show chicago --policies own", "backpitch profile show --policies own chicago"},
		{"backpitch rule show drain/too_flat --help", "backpitch rule show --help drain/too_flat"},
		{"backpitch", "backpitch"},
	} {
		got := strings.Join(flagsFirst(app, strings.Fields(c.in)), " ")
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("flagsFirst(%q):\n%s", c.in, diff)
		}
	}
}
