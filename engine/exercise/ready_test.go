package exercise

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"backpitch/engine/report"
)

var update = flag.Bool("update", false, "make the ready exercises again; their model answers are written by hand")

const ready = "../../testdata/exercises"

// readySecret seals the keys of the ready exercises. It is public: they are
// for a class to begin with and for tests, not for an examination.
const readySecret = "ready exercises, not secret"

// readyExercises are made from the invented designs of the project.
var readyExercises = []struct {
	name, design string
	order        Order
}{
	{"pottery-studio", "pottery-studio.json", Order{Faults: 4, Missing: 1, Seed: 12}},
	{"row-house", "bases/row-house.json", Order{Faults: 3, Seed: 20, Topics: []string{"cleanout", "drain", "fixture", "trap_arm", "vent"}}},
	{"community-workshop", "bases/workshop.json", Order{Faults: 5, Missing: 1, Seed: 23}},
}

// TestReadyExercises holds that each exercise is made again byte for byte from
// its seed, that a review of the student's file finds what its key says, that
// the model answers get full marks and that the invented students do not.
func TestReadyExercises(t *testing.T) {
	for _, x := range readyExercises {
		t.Run(x.name, func(t *testing.T) {
			s := survey(t, x.design)
			made, err := s.Make(t.Context(), x.order)
			if err != nil {
				t.Fatal(err)
			}
			dir := filepath.Join(ready, x.name)
			if *update {
				makeReady(t, dir, s, made)
			}
			read := func(name string) []byte {
				data, err := os.ReadFile(filepath.Join(dir, name))
				if err != nil {
					t.Fatal(err)
				}
				return data
			}
			k, err := Open("key.age", read("key.age"), readySecret)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(&made.Key, k); diff != "" {
				t.Errorf("the key is not what its seed makes today (-made +key); -update makes it again:\n%s", diff)
			}
			design := read("design.json")
			if !bytes.Equal(made.Design, design) {
				t.Errorf("the student's file is not what its seed makes: %s", cmp.Diff(string(made.Design), string(design)))
			}
			if diff := cmp.Diff(keyed(k), reviewed(t, design)); diff != "" {
				t.Errorf("the review is not the key (-key +review):\n%s", diff)
			}
			if want := taskOf(s, made); want != string(read("task.md")) {
				t.Errorf("the task sheet is another: %s", cmp.Diff(want, string(read("task.md"))))
			}
			class := MarkClass(k, []Submission{
				{File: "model.json", Data: read("model.json")},
				{File: "fern.json", Data: read("students/fern.json")},
				{File: "moss.json", Data: read("students/moss.json")},
			})
			for i, m := range class.Students {
				if len(m.Problems) > 0 {
					t.Errorf("%s: %+v", m.File, m.Problems)
				}
				if full := m.Marks == m.Full; full != (i == 0) {
					t.Errorf("%s has %d of %d marks: %+v", m.File, m.Marks, m.Full, m.Answers)
				}
			}
		})
	}
}

func taskOf(s *Survey, made *Exercise) string {
	var head struct{ Project struct{ Name string } }
	if err := json.Unmarshal(made.Design, &head); err != nil {
		panic(err)
	}
	return TaskSheet(&made.Key, head.Project.Name, s.Topics(), report.Cautions)
}

// makeReady writes all but the answers that people wrote.
func makeReady(t *testing.T, dir string, s *Survey, made *Exercise) {
	t.Helper()
	sealed, err := Seal(made.Key, readySecret)
	if err != nil {
		t.Fatal(err)
	}
	sheet, err := json.MarshalIndent(Sheet(&made.Key), "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Join(dir, "students"), 0o755); err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{"design.json": made.Design, "answers.json": append(sheet, '\n'), "task.md": []byte(taskOf(s, made))}
	if old, err := os.ReadFile(filepath.Join(dir, "key.age")); err != nil || !sameKey(old, &made.Key) {
		files["key.age"] = sealed // sealing gives another text each time
	}
	for name, data := range files {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

func sameKey(sealed []byte, k *Key) bool {
	old, err := Open("key.age", sealed, readySecret)
	return err == nil && cmp.Equal(old, k)
}
