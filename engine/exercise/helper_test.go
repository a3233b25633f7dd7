package exercise

import (
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"backpitch/engine"
	"backpitch/policies"
	catalogue "backpitch/testdata/designs"
)

// The designs that tests break are the invented ones of the project.
const designs = "../../testdata/designs"

var shipped = sync.OnceValue(func() *engine.Engine { return engine.New(engine.Options{Policies: policies.FS()}) })

func file(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(designs, name))
	if err != nil {
		t.Fatal(err)
	}
	return data
}

var (
	surveys   = map[string]*Survey{}
	surveying sync.Mutex
)

// survey surveys a design once for all tests. A Survey is for one goroutine:
// tests that share one do not run in parallel.
func survey(t testing.TB, name string) *Survey {
	t.Helper()
	surveying.Lock()
	defer surveying.Unlock()
	if s := surveys[name]; s != nil {
		return s
	}
	s, err := NewSurvey(t.Context(), shipped(), catalogue.Faults(), filepath.Base(name), file(t, name), "")
	if err != nil {
		t.Fatal(err)
	}
	surveys[name] = s
	return s
}

func exercise(t testing.TB, name string, o Order) *Exercise {
	t.Helper()
	e, err := survey(t, name).Make(t.Context(), o)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func wantError(t *testing.T, err error, parts ...string) {
	t.Helper()
	if err == nil {
		t.Fatalf("no error, want one with %q", parts)
	}
	for _, part := range parts {
		if !strings.Contains(err.Error(), part) {
			t.Errorf("error %q, want %q in it", err, part)
		}
	}
}
