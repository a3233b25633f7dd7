package report

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/santhosh-tekuri/jsonschema/v5"

	"backpitch/engine/finding"
	"backpitch/schema"
)

func ptr(n int64) *int64 { return &n }

// sample has one finding of each outcome, one document with a problem and one
// that could not be read.
func sample() []Entry {
	place := func(file string, line int, pointer string) finding.Place {
		return finding.Place{File: file, Line: line, Col: 5, Pointer: pointer}
	}
	verify := "verify with local authority"
	return entries(
		finding.Review{
			File:    "a b.json",
			Project: finding.Project{Name: "Kiln room", Revision: "A"},
			Profile: finding.ProfileInfo{ID: "p", Title: "Code", Edition: "2021", Authority: "city", Units: "US", Figures: finding.FigureCounts{Checked: 1, FromMemory: 3}},
			Rules:   2, Subjects: 3,
			Counts: finding.Counts{Pass: 1, Fail: 1, Open: 1, Review: 1, Errors: 1},
			Findings: []finding.Finding{
				{Rule: "drain/too_flat", Title: "Horizontal drain too flat", Level: finding.Error, Outcome: finding.Fail, Subject: "b1", SubjectName: `drain "b1"`,
					Place: place("a b.json", 4, "/pipes/0"), Message: `drain "b1" falls 1/8 in/ft; 1/4 in/ft or more is required`,
					Measured: &finding.Quantity{Kind: "slope", Fixed: ptr(10417), Text: "1/8 in/ft"}, Limit: &finding.Quantity{Kind: "slope", Fixed: ptr(20833), Text: "1/4 in/ft"},
					Margin: &finding.Quantity{Kind: "slope", Fixed: ptr(-10416), Text: "-1/8 in/ft"}, Section: "704.1", Basis: finding.FromMemory, LimitBasis: finding.Checked,
					Remedy: "Increase the fall.", Verify: verify, Fingerprint: strings.Repeat("a", 32)},
				{Rule: "drain/too_flat", Title: "Horizontal drain too flat", Level: finding.Error, Outcome: finding.Open, Subject: "b2", SubjectName: `drain "b2"`,
					Place: place("a b.json", 5, "/pipes/1"), Message: `drain "b2": not shown`, Missing: []string{"slope"}, Section: "704.1", Basis: finding.FromMemory, Verify: verify, Fingerprint: strings.Repeat("b", 32)},
				{Rule: "field/water_test", Title: "Water test", Level: finding.Note, Outcome: finding.PersonDecides, Subject: "project", SubjectName: "project",
					Place: place("a b.json", 1, "/project"), Message: "test before cover", Section: "312", Basis: finding.CommonPractice, Verify: verify, Fingerprint: strings.Repeat("c", 32)},
				{Rule: "drain/too_flat", Title: "Horizontal drain too flat", Level: finding.Error, Outcome: finding.Pass, Subject: "b3", SubjectName: `drain "b3"`,
					Place: place("a b.json", 6, "/pipes/2"), Message: `drain "b3" falls 1/4 in/ft`, Section: "704.1", Basis: finding.FromMemory, Verify: verify, Fingerprint: strings.Repeat("d", 32)},
			},
		},
		finding.Review{File: "bad.json", Problems: []finding.Problem{{Place: place("bad.json", 2, "/pipes/0/sise"), Code: "unknown_key", Message: `no key "sise" here`, Hint: `did you mean "size"?`}}},
		finding.Review{File: "gone.json", Failure: "reading gone.json: no such file or directory"},
	)
}

func entries(reviews ...finding.Review) []Entry {
	list := make([]Entry, len(reviews))
	for i, r := range reviews {
		list[i].Review = r
	}
	return list
}

// describe knows one rule, so that a report must also bear one it is told
// nothing of.
func describe(_, id string) (Rule, bool) {
	return Rule{
		ID: "drain/too_flat", Title: "Horizontal drain too flat", Description: "A drain falls.",
		Rationale: "Solids stay behind.", Remedy: "Increase the fall.", Level: finding.Error,
	}, id == "drain/too_flat"
}

func show() map[finding.Outcome]bool {
	return map[finding.Outcome]bool{finding.Pass: true, finding.Fail: true, finding.Open: true, finding.PersonDecides: true}
}

func render(t *testing.T, format string, list []Entry, o Options) []byte {
	t.Helper()
	f, err := For(format)
	if err != nil {
		t.Fatal(err)
	}
	var buf bytes.Buffer
	o.Rule = describe
	if err := Write(&buf, f, list, o); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

func TestJSONFollowsItsSchema(t *testing.T) {
	s, err := schema.Compile("findings")
	if err != nil {
		t.Fatal(err)
	}
	out := render(t, "json", sample(), Options{Version: "v1"})
	if err := s.Validate(decode(t, out)); err != nil {
		t.Errorf("JSON report breaks schema/findings.schema.json: %#v", err)
	}
	// The schema must be able to refuse: an unknown outcome is none.
	broken := bytes.Replace(out, []byte(`"outcome": "open"`), []byte(`"outcome": "maybe"`), 1)
	if err := s.Validate(decode(t, broken)); err == nil {
		t.Error("the schema accepts an outcome that does not exist")
	}
}

// Source: the JSON Schema of SARIF 2.1.0, testdata/references/sarif/ORIGIN.md.
func TestSARIFFollowsTheStandard(t *testing.T) {
	s := sarifSchema(t)
	out := render(t, "sarif", sample(), Options{Version: "v1"})
	if err := s.Validate(decode(t, out)); err != nil {
		t.Errorf("SARIF report breaks the standard's schema: %#v", err)
	}
	broken := bytes.Replace(out, []byte(`"kind": "open"`), []byte(`"kind": "maybe"`), 1)
	if err := s.Validate(decode(t, broken)); err == nil {
		t.Error("the schema accepts a kind that does not exist")
	}
	var log sarifLog
	if err := json.Unmarshal(out, &log); err != nil {
		t.Fatal(err)
	}
	if n := len(log.Runs); n != 1 {
		t.Fatalf("%d runs, want one for the batch", n)
	}
	run := log.Runs[0]
	// SARIF 2.1.0 section 3.27.9: kind fail has a level, every other kind has level none.
	for _, r := range run.Results {
		if (r.Kind == "fail") != (r.Level != "none") {
			t.Errorf("kind %q with level %q", r.Kind, r.Level)
		}
		if len(r.Locations) == 0 || r.Locations[0].Physical.Artifact.URI != "a%20b.json" || len(r.Locations[0].Logical) == 0 {
			t.Errorf("result of %s lacks a physical or logical location: %+v", r.RuleID, r.Locations)
		}
		if got := run.Tool.Driver.Rules[r.RuleIndex].ID; got != r.RuleID {
			t.Errorf("ruleIndex leads to %s, want %s", got, r.RuleID)
		}
	}
	if run.Invocations[0].ExecutionSuccessful || len(run.Invocations[0].Notifications) != 2 {
		t.Errorf("the two files that could not be checked are not notified: %+v", run.Invocations)
	}
}

func TestTextShowsWhatIsAskedFor(t *testing.T) {
	all := string(render(t, "text", sample(), Options{Show: show()}))
	for _, want := range []string{
		"a b.json:4:5: error drain/too_flat\n",
		"found 1/8 in/ft, limit 1/4 in/ft (figure checked against published text)",
		"required: 704.1 (from memory)",
		"missing:  slope",
		"verify with local authority",
		"1 of 4 (25 %) checked against published text, 3 from memory",
		`bad.json:2:5: no key "sise" here`,
		`hint: did you mean "size"?`,
		"could not check: reading gone.json",
		"3 files, 2 of them could not be checked",
		"pre-check of a drawing, not a permit",
	} {
		if !strings.Contains(all, want) {
			t.Errorf("text lacks %q:\n%s", want, all)
		}
	}
	some := string(render(t, "text", sample(), Options{Show: map[finding.Outcome]bool{finding.Fail: true}}))
	if strings.Contains(some, "b2") || !strings.Contains(some, "b1") {
		t.Errorf("only failures were asked for:\n%s", some)
	}
	if strings.Contains(all, "\x1b[") {
		t.Error("colour without being asked for")
	}
	if coloured := string(render(t, "text", sample(), Options{Show: show(), Colour: true})); !strings.Contains(coloured, "\x1b[") {
		t.Error("no colour when asked for")
	}
}

func TestForNamesTheFormats(t *testing.T) {
	for _, f := range Formats() {
		if _, err := For(f); err != nil {
			t.Errorf("For(%q): %v", f, err)
		}
	}
	if _, err := For("pdf"); err == nil || !strings.Contains(err.Error(), "json, sarif, text") {
		t.Errorf("For(pdf) = %v, want the list of formats", err)
	}
	if diff := cmp.Diff("DrainTooFlat", ruleName("drain/too_flat")); diff != "" {
		t.Error(diff)
	}
}

func decode(t *testing.T, data []byte) any {
	t.Helper()
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.UseNumber()
	var v any
	if err := dec.Decode(&v); err != nil {
		t.Fatal(err)
	}
	return v
}

func sarifSchema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "references", "sarif", "sarif-schema-2.1.0.json"))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("sarif.json", bytes.NewReader(data)); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("sarif.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// sarifLog and sarifRun are the whole that sarifSink writes piece by piece.
type sarifLog struct {
	Schema  string     `json:"$schema"`
	Version string     `json:"version"`
	Runs    []sarifRun `json:"runs"`
}

type sarifRun struct {
	Tool             sarifTool         `json:"tool"`
	AutomationDetail sarifAutomation   `json:"automationDetails"`
	ColumnKind       string            `json:"columnKind"`
	Invocations      []sarifInvocation `json:"invocations"`
	Artifacts        []sarifArtifact   `json:"artifacts"`
	Results          []sarifResult     `json:"results"`
	Properties       map[string]any    `json:"properties"`
}

type sarifInvocation struct {
	ExecutionSuccessful bool                `json:"executionSuccessful"`
	Notifications       []sarifNotification `json:"toolExecutionNotifications"`
}
