package proof

import (
	"bytes"
	"encoding/json"
	"errors"
	"io/fs"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"backpitch/engine/policy"
)

const tooFlat = `# METADATA
# title: Too flat
# description: A drain falls enough.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: drain
#   quantity: slope
#   message: "{subject} falls {measured}; {limit} is required"
#   remedy: "Increase the fall."
#   rationale: "Solids stay behind."
#   needs: [slope, size]
#   tables: [drain.min_slope]
#   status: stable
package rules.drain.too_flat

import data.lib.judge

subject[p.id] := p if {
	some p in input.drains
	not p.lie == "vertical"
}

verdict[id] := judge.at_least(p.slope, limit) if {
	some id, p in subject
	limit := data.profile.drain.min_slope[p.size]
}
`

const tooFlatTest = `package rules.drain.too_flat_test

import data.rules.drain.too_flat

profile := {"drain": {"min_slope": {"DN 50": 20833}}}

given := {"id": "d", "lie": "horizontal", "size": "DN 50", "slope": 30000}

test_pass if outcome(given) == "pass"

test_fail if outcome(object.union(given, {"slope": 10000})) == "fail"

test_boundary if outcome(object.union(given, {"slope": 20833})) == "pass"

test_open if {
	too_flat.subject.d with input as {"drains": [object.remove(given, ["slope"])]}
	not outcome(object.remove(given, ["slope"]))
}

test_not_subject if not too_flat.subject.d with input as {"drains": [object.union(given, {"lie": "vertical"})]}

outcome(d) := o if o := too_flat.verdict.d.outcome with input as {"drains": [d]} with data.profile as profile
`

const profileJSON = `{"id":"p","title":"P","edition":"1","authority":"a","units":"US","verify":"verify","sources":{"b":{"title":"b"}},
 "method":{"load":"fixture_units"},
 "fixtures":{"lavatory":{"kind":"lavatory","load":"1 dfu","basis":"checked","source":"b"}},
 "tables":{
  "drain.min_slope":{"keys":["size"],"value":"slope","basis":"checked","source":"b","rows":{"2 in":"1/4 in/ft","3 in":"1/8 in/ft"}}},
 "adopts":{"drain/too_flat":{"section":"7","basis":"checked","source":"b"}}}`

// sound is a folder of policies in which nothing is to be mended.
func sound(t *testing.T) fstest.MapFS {
	t.Helper()
	fsys := fstest.MapFS{
		"profiles/p/profile.json":         {Data: []byte(profileJSON)},
		"rules/drain/too_flat.rego":       {Data: []byte(tooFlat)},
		"rules/drain/too_flat_test.rego":  {Data: []byte(tooFlatTest)},
		"waivers.json":                    {Data: []byte(`{"mutants":[]}`)},
		"profiles/p/rules/readme/none.md": {Data: []byte("not a rule")},
	}
	disk := os.DirFS("../../policies")
	files, err := fs.Glob(disk, "lib/*.rego")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range files {
		data, err := fs.ReadFile(disk, name)
		if err != nil {
			t.Fatal(err)
		}
		fsys[name] = &fstest.MapFile{Data: data}
	}
	return fsys
}

// notLib leaves the helpers, which have their own policies folder, alone.
func notLib(file string) bool { return !strings.HasPrefix(file, "lib/") }

// kept is the figures of a folder as they are.
func kept(t *testing.T, fsys fs.FS) func(string) (string, bool) {
	t.Helper()
	return func(id string) (string, bool) {
		data, err := fs.ReadFile(fsys, "profiles/"+id+"/figures.txt")
		return string(data), err == nil
	}
}

func codes(list []Problem) string {
	var out []string
	for _, p := range list {
		out = append(out, p.Code)
	}
	slices.Sort(out)
	return strings.Join(slices.Compact(out), " ")
}

func TestWhatIsToBeMended(t *testing.T) {
	for _, tt := range []struct {
		name, file, old, new string
		problems, notes      string // codes
		message              string // of one of them
	}{
		{"nothing", "", "", "", "", "", ""},
		{"a test that fails", "rules/drain/too_flat_test.rego", `== "fail"`, `== "pass"`, "test_failed", "", "test_fail fails"},
		{"a kind of test that is missing", "rules/drain/too_flat_test.rego", "test_open if", "test_other if", "test_missing", "", "no test is called test_open…"},
		{"a line that no test runs", "rules/drain/too_flat.rego", "verdict[id] := judge.at_least", "never if input.project.has_basin == true\n\nverdict[id] := judge.at_least", "not_covered", "", "no test runs line 25"},
		{"a subject that is lost with a fact", "rules/drain/too_flat.rego", `	not p.lie == "vertical"`, "\tnot p.lie == \"vertical\"\n\tp.slope", "not_proved test_failed", "", "without slope the subject is lost"},
		{"a table that the tests never reach", "rules/drain/too_flat.rego", "data.profile.drain.min_slope[p.size]", `data.profile.drain.min_slope[p.material]`, "not_covered not_proved test_failed", "", "no fact could be moved to its limit"},
		{"a table the profile lacks", "profiles/p/profile.json", `"drain.min_slope":{`, `"drain.other":{`, "not_proved table_missing", "table_unread", "has no table drain.min_slope"},
		{"a table nobody reads", "profiles/p/profile.json", `"tables":{`, `"tables":{"drain.idle":{"value":"flag","is":true,"basis":"checked","source":"b"},`, "", "table_unread", "reads table drain.idle"},
		{"a waiver nobody needs", "waivers.json", `"mutants"`, `"figures":[{"rule":"drain/too_flat","table":"drain.min_slope","rows":["4 in"],"reason":"none"}],"mutants"`, "", "waiver_unused", "is not needed"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			fsys := sound(t)
			if tt.file != "" {
				text := string(fsys[tt.file].Data)
				if strings.Count(text, tt.old) == 0 {
					t.Fatalf("%q does not stand in %s", tt.old, tt.file)
				}
				fsys[tt.file] = &fstest.MapFile{Data: []byte(strings.Replace(text, tt.old, tt.new, 1))}
			}
			r, err := Run(t.Context(), Options{Policies: fsys, Profiles: []string{"p"}, Own: notLib})
			if err != nil {
				t.Fatal(err)
			}
			if codes(r.Problems) != tt.problems || codes(r.Notes) != tt.notes {
				t.Errorf("problems %v, notes %v; want %q and %q", r.Problems, r.Notes, tt.problems, tt.notes)
			}
			if !slices.ContainsFunc(append(r.Problems, r.Notes...), func(p Problem) bool { return strings.Contains(p.Message, tt.message) }) && tt.message != "" {
				t.Errorf("no message has %q: %v %v", tt.message, r.Problems, r.Notes)
			}
		})
	}
}

func TestProofOfASoundRule(t *testing.T) {
	r, err := Run(t.Context(), Options{Policies: sound(t), Profiles: []string{"p"}, Own: notLib})
	if err != nil {
		t.Fatal(err)
	}
	// Two rows: at the limit, beyond it, without slope, without size.
	want := Coverage{Profile: "p", Adoptions: 1, Numeric: 1, Proved: 1, Figures: 2, Boundary: 2, Cases: 8}
	if r.Profiles[0] != want {
		t.Errorf("coverage is %+v, want %+v", r.Profiles[0], want)
	}
}

func TestMutantsAreNoticed(t *testing.T) {
	fsys := sound(t)
	var figures bytes.Buffer
	if err := WriteFigures(&figures, mustLoad(t, fsys, "p")); err != nil {
		t.Fatal(err)
	}
	fsys["profiles/p/figures.txt"] = &fstest.MapFile{Data: figures.Bytes()}
	o := Options{Policies: fsys, Profiles: []string{"p"}, Own: notLib, Mutate: true, Pinned: kept(t, fsys)}
	r, err := Run(t.Context(), o)
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Problems) > 0 || r.Rules.Unseen > 0 || r.Rules.Tests == 0 {
		t.Errorf("problems %v, score %+v", r.Problems, r.Rules)
	}
	s := r.Profiles[0].Score
	// The load of the lavatory is in no rule: two changes only the kept figures
	// show.
	if s.Unseen != 0 || s.Pinned != 2 || s.Verdict != s.Changes-2 {
		t.Errorf("figures: %+v", s)
	}

	o.Pinned = nil
	if r, err = Run(t.Context(), o); err != nil {
		t.Fatal(err)
	}
	if codes(r.Problems) != "figure_unnoticed" || len(r.Problems) != 2 {
		t.Errorf("without kept figures: %v", r.Problems)
	}

	fsys["profiles/p/figures.txt"] = &fstest.MapFile{Data: bytes.Replace(figures.Bytes(), []byte("1/8 in/ft"), []byte("1/4 in/ft"), 1)}
	o.Pinned = kept(t, fsys)
	if r, err = Run(t.Context(), o); err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(codes(r.Problems), "figure_unnoticed pinned_differ") {
		t.Errorf("kept figures that differ: %v", r.Problems)
	}

	// Without the test of vertical drains nobody misses the line.
	weak := strings.Replace(tooFlatTest, `{"lie": "vertical"}`, `{"lie": "vertical", "id": "e"}`, 1)
	fsys["rules/drain/too_flat_test.rego"] = &fstest.MapFile{Data: []byte(weak)}
	if r, err = Run(t.Context(), o); err != nil {
		t.Fatal(err)
	}
	if !slices.ContainsFunc(r.Problems, func(p Problem) bool {
		return p.Code == "mutant_unnoticed" && p.File == "rules/drain/too_flat.rego" && strings.Contains(p.Message, `without the condition not p.lie == "vertical"`)
	}) {
		t.Errorf("a condition that no test minds: %v", r.Problems)
	}
	fsys["waivers.json"] = &fstest.MapFile{Data: []byte(`{"mutants":[{"file":"rules/drain/too_flat.rego","was":"not p.lie == \"vertical\"","is":"true","reason":"try"}]}`)}
	if r, err = Run(t.Context(), o); err != nil {
		t.Fatal(err)
	}
	if r.Rules.Alike != 1 {
		t.Errorf("the waiver was not used: %+v", r.Rules)
	}
}

func TestPoliciesThatCannotBeUsed(t *testing.T) {
	fsys := sound(t)
	fsys["rules/drain/too_flat.rego"] = &fstest.MapFile{Data: []byte(strings.Replace(tooFlat, "p.slope,", "p.slpe,", 1))}
	_, err := Run(t.Context(), Options{Policies: fsys, Profiles: []string{"p"}})
	var broken *policy.Error
	if !errors.As(err, &broken) || broken.Line != 25 || !strings.Contains(broken.Hint, `did you mean "slope"?`) {
		t.Errorf("a misspelt fact: %v", err)
	}
	if _, err := Run(t.Context(), Options{Policies: sound(t), Profiles: []string{"q"}}); err == nil {
		t.Error("a profile that does not exist is no error")
	}
	fsys = sound(t)
	fsys["waivers.json"] = &fstest.MapFile{Data: []byte(`{"mutants":[{"file":"x","was":"a","is":"b"}]}`)}
	if _, err := Run(t.Context(), Options{Policies: fsys, Profiles: []string{"p"}}); err == nil || !strings.Contains(err.Error(), "gives no reason") {
		t.Errorf("a waiver without reason: %v", err)
	}
}

func TestWriters(t *testing.T) {
	r, err := Run(t.Context(), Options{Policies: sound(t), Profiles: []string{"p"}, Own: notLib, Mutate: true})
	if err != nil {
		t.Fatal(err)
	}
	var text, doc bytes.Buffer
	if err := WriteText(&text, r); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"rego tests: 5, 0 failed", "1 of 1", "2 problems, 0 notes", "hint: keep its figures for reading"} {
		if !strings.Contains(text.String(), want) {
			t.Errorf("the text lacks %q:\n%s", want, text.String())
		}
	}
	if err := WriteJSON(&doc, r); err != nil {
		t.Fatal(err)
	}
	var back Report
	if err := json.Unmarshal(doc.Bytes(), &back); err != nil || len(back.Problems) != 2 || back.Profiles[0].Boundary != 2 {
		t.Errorf("JSON comes back as %+v, %v", back, err)
	}
}
