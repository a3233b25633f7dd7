package rulebook_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"backpitch/engine"
	"backpitch/engine/finding"
	"backpitch/engine/plant"
	"backpitch/engine/profile"
	"backpitch/engine/rulebook"
	"backpitch/policies"
)

var update = flag.Bool("update", false, "rewrite the examples")

const designs = "../../testdata/designs"

var shipped = sync.OnceValue(func() *engine.Engine { return engine.New(engine.Options{Policies: policies.FS()}) })

func workshop(t *testing.T) *rulebook.Workshop {
	t.Helper()
	w := &rulebook.Workshop{Designs: map[string][]byte{}, Sound: "pottery-studio"}
	for _, pattern := range []string{"/*.json", "/bases/*.json"} {
		files, err := filepath.Glob(designs + pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			w.Designs[strings.TrimSuffix(filepath.Base(file), ".json")] = data
		}
	}
	var err error
	if w.Faults, err = plant.Load(os.DirFS(designs + "/faults")); err != nil {
		t.Fatal(err)
	}
	w.Judge = func(ctx context.Context, id, name string, data []byte) (finding.Review, error) {
		r := shipped().Review(ctx, engine.Submission{Name: name, Data: data}, id)
		if r.Failure != "" {
			return r, errors.New(name + ": " + r.Failure)
		}
		return r, nil
	}
	return w
}

func allProfiles(t *testing.T) []*profile.Profile {
	t.Helper()
	list, err := shipped().Profiles()
	if err != nil {
		t.Fatal(err)
	}
	var out []*profile.Profile
	for _, s := range list {
		p, err := shipped().Profile(s.ID)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, p)
	}
	return out
}

// unexampled are the rules that no fault and no demo design sets off under any
// profile.
var unexampled = map[string]bool{"basin/vent_shared": true}

// TestExamplesAreRun judges both designs of every example again and holds that
// examples.json says what the reviews say, and that every rule has an example.
// -update looks for the examples anew.
func TestExamplesAreRun(t *testing.T) {
	w, profiles := workshop(t), allProfiles(t)
	if *update {
		made, err := w.Make(t.Context(), profiles)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile("examples.json", encode(t, made), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	kept, err := rulebook.Examples()
	if err != nil {
		t.Fatal(err)
	}
	have := map[string]bool{}
	for _, e := range kept {
		have[e.Rule] = true
		again, err := w.Again(t.Context(), e, profiles)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(&e, again); diff != "" {
			t.Errorf("the example of %s is not what a review says (-kept +again); -update rewrites it:\n%s", e.Rule, diff)
		}
		if e.Failing.Outcome == finding.Pass || e.Passing != nil && e.Passing.Outcome != finding.Pass {
			t.Errorf("the example of %s passes where it should not, or the other way round", e.Rule)
		}
	}
	for _, p := range profiles {
		for _, id := range p.Rules() {
			if have[id] == unexampled[id] {
				t.Errorf("rule %s: example %v; -update looks for one", id, have[id])
			}
		}
	}
}

func encode(t *testing.T, v any) []byte {
	t.Helper()
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	if err := enc.Encode(v); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}
