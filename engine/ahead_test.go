package engine

import (
	"context"
	"os"
	"testing"

	"backpitch/policies"
)

func TestGuessOfTheProfile(t *testing.T) {
	for text, want := range map[string]string{
		`{"profile": "ipc-2021"}`:           "ipc-2021",
		"{\"profile\"\n:\t\"x\", \"a\": 1}": "x",
		`{"profile": 3}`:                    "",
		`{"profile": "x`:                    "",
		`{"profile"`:                        "",
		`{"notes": "a \"profile\": b"}`:     "",
		``:                                  "",
	} {
		if got := guess([]byte(text)); got != want {
			t.Errorf("%s: guessed %q, not %q", text, got, want)
		}
	}
}

// What is opened ahead changes no review: neither a guess that is wrong, nor a
// first design that ends before its profile is open.
func TestOpenedAheadChangesNothing(t *testing.T) {
	sound, err := os.ReadFile("../testdata/designs/pottery-studio.json")
	if err != nil {
		t.Fatal(err)
	}
	want := New(Options{Policies: policies.FS()}).Review(t.Context(), Submission{Name: "a", Data: sound}, "ipc-2021")
	if len(want.Findings) == 0 || want.Failure != "" {
		t.Fatalf("the design gives %d findings, failure %q", len(want.Findings), want.Failure)
	}
	for _, first := range []string{`{"profile": "ipc-2021", `, `{"profile": "no-such-profile"}`, `{"notes": {"profile": "chicago"}}`, ``} {
		eng := New(Options{Policies: policies.FS()})
		ctx, cancel := context.WithCancel(t.Context())
		eng.Review(ctx, Submission{Name: "b", Data: []byte(first)}, "")
		cancel()
		got := eng.Review(t.Context(), Submission{Name: "a", Data: sound}, "")
		if got.Failure != want.Failure || got.Counts != want.Counts || got.Profile.ID != "ipc-2021" {
			t.Errorf("after %q: failure %q, %+v under %q; alone: %+v", first, got.Failure, got.Counts, got.Profile.ID, want.Counts)
		}
	}
}
