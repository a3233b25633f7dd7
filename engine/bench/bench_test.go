package bench

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"backpitch/engine"
	"backpitch/engine/finding"
	"backpitch/policies"
)

func design(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("../../testdata/designs", name))
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// one bench for all tests: preparing a profile takes a second.
var shared = New(policies.FS())

func TestReviewSaysWhatTheEngineSays(t *testing.T) {
	e := engine.New(engine.Options{Policies: policies.FS()})
	for _, name := range []string{"pottery-studio.json", "pottery-studio-flawed.json", "pottery-studio-sketch.json"} {
		t.Run(name, func(t *testing.T) {
			text := design(t, name)
			want := e.Review(t.Context(), engine.Submission{Name: name, Data: []byte(text)}, "")
			got := shared.Review(Request{Name: name, Design: text})
			if want.Failure != "" || len(want.Findings) < 100 {
				t.Fatalf("failure %q, %d findings", want.Failure, len(want.Findings))
			}
			var list []finding.Finding
			for _, i := range got.Items {
				list = append(list, i.Finding)
			}
			finding.Sort(list)
			if d := cmp.Diff(want.Findings, list); d != "" {
				t.Errorf("findings differ:\n%s", d)
			}
			if d := cmp.Diff(want.Counts, got.Counts); d != "" {
				t.Errorf("counts differ:\n%s", d)
			}
		})
	}
}

// TestDiagramAndListPointToEachOther holds that each numbered finding about an
// element of the diagram is marked there, and that its element has a name the
// page can go to.
func TestDiagramAndListPointToEachOther(t *testing.T) {
	a := shared.Review(Request{Name: "x", Design: design(t, "pottery-studio-flawed.json")})
	marked, named := 0, 0
	for n, i := range a.Items {
		if i.Outcome == finding.Pass != (i.N == 0) || i.N != 0 && i.N != n+1 {
			t.Errorf("item %d of outcome %s has number %d", n+1, i.Outcome, i.N)
		}
		if n > 0 && rank(i.Finding) < rank(a.Items[n-1].Finding) {
			t.Errorf("item %d stands behind what is less urgent", n+1)
		}
		if i.N == 0 {
			continue
		}
		if strings.Contains(a.Riser, fmt.Sprintf(`href="#finding-%d"`, i.N)) {
			marked++
		}
		if strings.Contains(a.Riser, fmt.Sprintf(`id=%q`, i.Element)) {
			named++
		}
	}
	// Those about the project or the building stand nowhere in a diagram.
	if marked < 30 || named < marked {
		t.Errorf("%d findings are marked and %d elements named", marked, named)
	}
}

func TestNewRuleJudges(t *testing.T) {
	text := NewRule()
	q := Request{Name: "x", Design: design(t, "pottery-studio.json"), Rule: text.Rule, Amendment: text.Amendment}
	if f := shared.Open(q); len(f) > 0 {
		t.Fatalf("faults: %+v", f)
	}
	a := shared.Review(q)
	fails, passes := 0, 0
	for _, i := range a.Items {
		if i.Rule != "class/too_long" {
			continue
		}
		// 3 ft is 914,400 µm (international foot, exact).
		if long := *i.Measured.Fixed > 914400; long != (i.Outcome == finding.Fail) {
			t.Errorf("%s: %s is %s", i.SubjectName, i.Measured.Text, i.Outcome)
		}
		if i.Outcome == finding.Fail {
			fails++
		} else {
			passes++
		}
	}
	if fails == 0 || passes == 0 || a.Class != "class/too_long" || a.Counts.Warnings != fails {
		t.Errorf("%d fail and %d pass; class %q, failure %q, %+v", fails, passes, a.Class, a.Failure, a.Faults)
	}
	plain := shared.Review(Request{Name: "x", Design: q.Design})
	if len(plain.Items)+fails+passes != len(a.Items) {
		t.Errorf("%d findings without the rule, %d with it", len(plain.Items), len(a.Items))
	}
}

func TestFaultsOfTheClass(t *testing.T) {
	made, text := NewRule(), design(t, "pottery-studio.json")
	for _, tt := range []struct {
		name          string
		old, new      string
		amendment     string
		in            string
		line, col     int
		message, hint string
	}{
		{name: "a bracket too many", old: "some p in input.drains", new: "some p in input.drains)", in: "rule", line: 22, col: 24, message: "unexpected )", hint: "bracket"},
		{name: "a misspelt fact", old: "p.length, most", new: "p.lenght, most", in: "rule", line: 31, col: 30, message: `no "lenght"`, hint: `did you mean "length"`},
		{name: "a name without a value", old: "most := 3 * 304800", new: "many := 3 * 304800", in: "rule", line: 31, message: "most", hint: "value"},
		{name: "no package", old: "package rules.class.too_long", new: "package too_long", in: "rule", line: 1, message: "package", hint: "package rules.class.name"},
		{name: "the network", old: "most := 3 * 304800", new: "most := 3 * 304800\n\nx := http.send({})", in: "rule", line: 30, message: "http.send", hint: "no network"},
		{name: "an unknown quantity", old: "quantity: length", new: "quantity: lenght", in: "rule", message: "lenght", hint: "length"},
		{name: "no adoption", amendment: `{"tables": {"drain.min_slope": {"rows": {"2 in": null}}}}`, in: "amendment", line: 1, message: "nothing adopts", hint: `"class/too_long"`},
		{name: "an amendment that changes nothing", amendment: "{}", in: "amendment", line: 1, message: "changes nothing"},
		{name: "an amendment that breaks off", amendment: "{\n  \"adopts\": {\n", in: "amendment", line: 3},
		{name: "an amendment that is a list", amendment: "[]", in: "amendment", line: 1, message: "not an object"},
		{name: "an adoption without basis", amendment: "{\n  \"adopts\": {\n    \"class/too_long\": { \"section\": \"1\" }\n  }\n}", in: "amendment", line: 3, message: "basis"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			q := Request{Name: "x", Design: text, Rule: made.Rule, Amendment: made.Amendment}
			if tt.old != "" {
				if strings.Count(q.Rule, tt.old) != 1 {
					t.Fatalf("%q stands %d times in the rule", tt.old, strings.Count(q.Rule, tt.old))
				}
				q.Rule = strings.Replace(q.Rule, tt.old, tt.new, 1)
			}
			if tt.amendment != "" {
				q.Amendment = tt.amendment
			}
			opened, a := shared.Open(q), shared.Review(q)
			if len(a.Faults) == 0 || a.Failure == "" || len(a.Items) > 0 {
				t.Fatalf("no fault; failure %q, %d findings", a.Failure, len(a.Items))
			}
			if d := cmp.Diff(opened, a.Faults, cmpopts.EquateEmpty()); d != "" {
				t.Errorf("Open and Review name different faults:\n%s", d)
			}
			f := a.Faults[0]
			if f.In != tt.in || tt.line != 0 && f.Line != tt.line || f.Line == 0 || tt.col != 0 && f.Col != tt.col ||
				!strings.Contains(f.Message, tt.message) || !strings.Contains(f.Hint, tt.hint) || strings.Contains(f.Message, "rego_") {
				t.Errorf("faults = %+v", a.Faults)
			}
		})
	}
}

// TestAmendmentOfATable holds that a class can change a limit and see it judged:
// with 1/2 in/ft asked of 2 in drains, those of the sound demo are too flat.
func TestAmendmentOfATable(t *testing.T) {
	text := design(t, "pottery-studio.json")
	a := shared.Review(Request{Name: "x", Design: text, Amendment: `
{
  "tables": { "drain.min_slope": { "rows": { "2 in": { "value": "1/2 in/ft", "basis": "common practice", "source": "class" } } } }
}`})
	flat := 0
	for _, i := range a.Items {
		if i.Rule == "drain/too_flat" && i.Outcome == finding.Fail {
			flat++
			if i.Limit.Text != "1/2 in/ft" {
				t.Errorf("limit %s", i.Limit.Text)
			}
		}
	}
	if flat == 0 || a.Profile.Amends != "ipc-2021" || a.Failure != "" {
		t.Errorf("%d too flat, profile %+v, failure %q %+v", flat, a.Profile, a.Failure, a.Faults)
	}
}

// TestChangedRule holds that a rule of the profile can be taken into the editor
// as it is, and changed there.
func TestChangedRule(t *testing.T) {
	text := design(t, "pottery-studio.json")
	for _, p := range []string{"ipc-2021", "chicago"} {
		made, err := shared.RuleText(p, "drain/too_flat")
		if err != nil {
			t.Fatal(err)
		}
		plain := shared.Review(Request{Name: "x", Design: text, Profile: p})
		same := shared.Review(Request{Name: "x", Design: text, Profile: p, Rule: made.Rule, Amendment: made.Amendment})
		if d := cmp.Diff(plain.Items, same.Items); d != "" || !strings.Contains(made.Adopted, "704.1") {
			t.Errorf("%s: the unchanged rule judges differently:\n%s", p, d)
		}
		turned := shared.Review(Request{Name: "x", Design: text, Profile: p, Amendment: made.Amendment,
			Rule: strings.Replace(made.Rule, "judge.at_least", "judge.at_most", 1)})
		if turned.Counts.Fail <= plain.Counts.Fail || turned.Failure != "" {
			t.Errorf("%s: the rule turned round gives %d failures instead of %d; %s", p, turned.Counts.Fail, plain.Counts.Fail, turned.Failure)
		}
	}
	if _, err := shared.RuleText("ipc-2021", "drain/none_such"); err == nil {
		t.Error("a rule that does not exist is found")
	}
}

func TestEveryProfileIsAChoice(t *testing.T) {
	list, err := shared.Profiles()
	if err != nil {
		t.Fatal(err)
	}
	entries, err := os.ReadDir("../../policies/profiles")
	if err != nil {
		t.Fatal(err)
	}
	var want, got []string
	for _, e := range entries {
		if e.IsDir() {
			want = append(want, e.Name())
		}
	}
	for _, p := range list {
		got = append(got, p.ID)
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

// TestNothingIsDroppedInSilence holds that a design beyond what a page can show
// says how much is left out.
func TestNothingIsDroppedInSilence(t *testing.T) {
	var a Answer
	a.number(make([]finding.Finding, mostItems+7))
	if len(a.Items) != mostItems || a.Left != 7 {
		t.Errorf("%d items, %d left", len(a.Items), a.Left)
	}
	var doc map[string]any
	if err := json.Unmarshal([]byte(design(t, "pottery-studio.json")), &doc); err != nil {
		t.Fatal(err)
	}
	for n := range mostPipes {
		doc["fixtures"] = append(doc["fixtures"].([]any), map[string]any{"id": fmt.Sprint("l", n), "kind": "lavatory"})
		doc["pipes"] = append(doc["pipes"].([]any), map[string]any{"id": fmt.Sprint("p", n), "service": "drain", "from": fmt.Sprint("l", n), "to": "j-closet"})
	}
	big, err := json.Marshal(doc)
	if err != nil {
		t.Fatal(err)
	}
	got := shared.Review(Request{Name: "x", Design: string(big)})
	if got.Riser != "" || !strings.Contains(got.NoRiser, "pipes") {
		t.Errorf("a diagram of %d bytes; %q; %q %v", len(got.Riser), got.NoRiser, got.Failure, got.Problems)
	}
	if total := got.Counts.Pass + got.Counts.Fail + got.Counts.Open + got.Counts.Review; total != len(got.Items)+got.Left {
		t.Errorf("%d findings counted, %d listed, %d left", total, len(got.Items), got.Left)
	}
}
