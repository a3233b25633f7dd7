package engine_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"backpitch/engine"
	"backpitch/engine/finding"
	"backpitch/engine/plant"
	"backpitch/policies"
)

// references is where the published cases lie.
const references = "../testdata/references"

// layered shows the profiles of the references, which are fragments of codes
// that no shipped profile covers, beside the shipped ones.
type layered struct{ top, base fs.FS }

func (l layered) Open(name string) (fs.File, error) {
	f, err := l.top.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		return l.base.Open(name)
	}
	return f, err
}

func (l layered) ReadDir(name string) ([]fs.DirEntry, error) {
	top, topErr := fs.ReadDir(l.top, name)
	base, baseErr := fs.ReadDir(l.base, name)
	if topErr != nil && baseErr != nil {
		return nil, baseErr
	}
	for _, e := range base {
		if !slices.ContainsFunc(top, func(t fs.DirEntry) bool { return t.Name() == e.Name() }) {
			top = append(top, e)
		}
	}
	return top, nil
}

// referenceEngine is the one engine of all published cases, so that each profile is
// prepared once.
var referenceEngine = engine.New(engine.Options{
	Policies: layered{os.DirFS(references + "/worked/policies"), policies.FS()},
})

// source says where a case was published.
type source struct {
	Title string `json:"title"`
	URL   string `json:"url"`
	Note  string `json:"note"`
}

// readJSON decodes a reference file and refuses keys it does not know.
func readJSON(t *testing.T, name string, into any) {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(references, name))
	if err != nil {
		t.Fatal(err)
	}
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
}

// changed applies patches in order to a base design: the demo, or one of the
// small ones made for the worked problems. It is called after the case.
func changed(t *testing.T, name string, patches ...[]plant.Operation) []byte {
	t.Helper()
	file := filepath.Join(references, "worked", "designs", name+".json")
	if name == "pottery-studio" {
		file = "../testdata/designs/pottery-studio.json"
	}
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	called, err := json.Marshal(t.Name())
	if err != nil {
		t.Fatal(err)
	}
	patch := []plant.Operation{{Op: "replace", Path: "/project/name", Value: called}}
	data, err = plant.Fault{Name: t.Name(), Patch: slices.Concat(patch, slices.Concat(patches...))}.Apply(data)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// reviewed reviews a design that must be readable and free of contradictions.
func reviewed(t *testing.T, data []byte, profileID string) finding.Review {
	t.Helper()
	r := referenceEngine.Review(t.Context(), engine.Submission{Name: t.Name(), Data: data}, profileID)
	if r.Failure != "" {
		t.Fatalf("%s\n%s", r.Failure, r.Hint)
	}
	for _, p := range r.Problems {
		t.Errorf("problem at %s: %s", p.Place.Pointer, p.Message)
	}
	if len(r.Problems) > 0 {
		t.FailNow()
	}
	return r
}

// one is the finding of a rule for a subject; there must be exactly one.
func one(t *testing.T, r finding.Review, rule, subject string) finding.Finding {
	t.Helper()
	var found []finding.Finding
	for _, f := range r.Findings {
		if f.Rule == rule && f.Subject == subject {
			found = append(found, f)
		}
	}
	if len(found) != 1 {
		t.Fatalf("%d findings of %s for %q under %s, want one", len(found), rule, subject, r.Profile.ID)
	}
	return found[0]
}

// text is a quantity of a finding as people read it.
func text(q *finding.Quantity) string {
	if q == nil {
		return "nothing"
	}
	return q.Text
}
