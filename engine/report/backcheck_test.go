package report

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"backpitch/engine/finding"
	"backpitch/schema"
)

// someBackcheck has an item of each kind; its words try to be markup.
func someBackcheck() finding.Backcheck {
	slope := func(fixed int64, text string) *finding.Quantity {
		return &finding.Quantity{Kind: "slope", Fixed: &fixed, Text: text}
	}
	side := func(file, revision string) finding.Side {
		return finding.Side{File: file, Project: finding.Project{Name: "Kiln <b>room</b>", Reference: "KR-1", Revision: revision}, Rules: 2, Subjects: 3,
			Profile: finding.ProfileInfo{ID: "p", Title: "Code", Edition: "2021", Authority: "city", Units: "US", Verify: "verify with local authority: the city"}}
	}
	answer := func(file string, line int, outcome finding.Outcome, message string, measured *finding.Quantity) *finding.Answer {
		return &finding.Answer{Outcome: outcome, Level: finding.Error, Message: message, Measured: measured, Place: finding.Place{File: file, Line: line, Col: 5, Pointer: "/pipes/0"}}
	}
	item := func(status finding.Status, why string, part finding.Part, subject string, then, now *finding.Answer) finding.Item {
		return finding.Item{Status: status, Why: why, Part: part, Rule: "drain/too_flat", Title: "Horizontal drain too flat", Subject: subject, SubjectName: "drain " + subject,
			Section: "704.1", Basis: finding.FromMemory, Remedy: "Increase the fall.", Verify: "verify with local authority", Fingerprint: finding.Fingerprint("drain/too_flat", subject), Earlier: then, Later: now}
	}
	b := finding.Backcheck{Earlier: side("a.json", "A"), Later: side("b.json", "B"), Items: []finding.Item{
		item(finding.Outstanding, "", finding.Altered, "b1", answer("a.json", 4, finding.Fail, `drain "b1" falls 1/8 in/ft`, slope(10417, "1/8 in/ft")), answer("b.json", 9, finding.Fail, `drain "b1" falls 3/16 in/ft`, slope(15625, "3/16 in/ft"))),
		item(finding.Outstanding, "", finding.Unchanged, "b2", answer("a.json", 5, finding.Fail, `drain "b2" falls 1/8 in/ft`, slope(10417, "1/8 in/ft")), answer("b.json", 8, finding.Fail, `drain "b2" falls 1/8 in/ft`, slope(10417, "1/8 in/ft"))),
		item(finding.New, "was met", finding.Unchanged, "b3", answer("a.json", 6, finding.Pass, `drain "b3" meets it`, nil), answer("b.json", 7, finding.Open, `drain "b3" cannot be judged from what is shown`, nil)),
		item(finding.Corrected, "", finding.Altered, "b4", answer("a.json", 7, finding.Fail, `drain "b4" falls [1/8](http://x.invalid) in/ft`, nil), answer("b.json", 6, finding.Pass, `drain "b4" meets it`, nil)),
		item(finding.Dropped, "element removed", finding.Removed, "b5", answer("a.json", 8, finding.Fail, `drain "b5" falls 1/8 in/ft`, nil), nil),
	},
		Elements: finding.ElementChanges{Unchanged: 2, Changed: []finding.ElementChange{{ElementName: finding.ElementName{ID: "b1", Kind: "drain"}, Keys: []finding.KeyChange{{Key: "slope", Earlier: `"1/8 in/ft"`, Later: `"3/16 in/ft"`}, {Key: "cover", Later: `"` + strings.Repeat("5 in ", 40) + `"`}}}},
			Renamed: []finding.ElementRename{{Earlier: "x2", Later: "b2", Kind: "drain"}}, Added: []finding.ElementName{}, Removed: []finding.ElementName{{ID: "b5", Kind: "drain"}}},
		Counts:  finding.BackcheckCounts{Outstanding: 2, New: 1, Corrected: 1, Dropped: 1, ChangedAnswers: 1, NewOnUnchanged: 1, Met: 12},
		Notices: []finding.Problem{{Place: finding.Place{File: "b.json"}, Code: "other_profile", Message: "this was judged under p (2021), the earlier submission under q (2018)", Hint: "give --profile"}},
	}
	b.Items[0].Changed = true
	b.Items[1].EarlierSubject = "x2"
	b.Items[1].Later.Approval = &finding.Approval{GrantedBy: "plan review office", Reference: "ALT-7", Date: "2026-02-03", Expires: "2026-12-31", Condition: "a cleanout stays in reach", Reason: "the beam stays",
		Place: finding.Place{File: "approvals.json", Line: 2, Col: 1, Pointer: "/approvals/0"}}
	b.Items[2].Later.Missing = []string{"slope"}
	return b
}

// TestBackcheckGoldens keeps the words people read.
func TestBackcheckGoldens(t *testing.T) {
	for format, file := range map[string]string{"text": "backcheck.txt", "markdown": "backcheck.md", "json": "backcheck.json"} {
		t.Run(format, func(t *testing.T) {
			write, err := Backcheck(format)
			if err != nil {
				t.Fatal(err)
			}
			var buf bytes.Buffer
			if err := write(&buf, someBackcheck(), Options{Version: "v1", Show: show()}); err != nil {
				t.Fatal(err)
			}
			golden := filepath.Join("testdata", file)
			if *update {
				if err := os.WriteFile(golden, buf.Bytes(), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(string(want), buf.String()); diff != "" {
				t.Errorf("-want +got; -update rewrites it:\n%s", diff)
			}
		})
	}
}

func TestBackcheckFollowsItsSchema(t *testing.T) {
	s, err := schema.Compile("backcheck")
	if err != nil {
		t.Fatal(err)
	}
	var buf bytes.Buffer
	if err := jsonBackcheck(&buf, someBackcheck(), Options{Version: "v1"}); err != nil {
		t.Fatal(err)
	}
	if err := s.Validate(decode(t, buf.Bytes())); err != nil {
		t.Errorf("the backcheck breaks schema/backcheck.schema.json: %#v", err)
	}
	broken := bytes.Replace(buf.Bytes(), []byte(`"status": "dropped"`), []byte(`"status": "mended"`), 1)
	if err := s.Validate(decode(t, broken)); err == nil {
		t.Error("the schema accepts a status that does not exist")
	}
}

// TestMarkdownIsPlain: CommonMark 0.31 section 2.4 lets every ASCII
// punctuation mark be escaped; section 6.11 has raw HTML begin with "<".
func TestMarkdownIsPlain(t *testing.T) {
	var buf bytes.Buffer
	if err := markdownBackcheck(&buf, someBackcheck(), Options{Show: show()}); err != nil {
		t.Fatal(err)
	}
	for _, bad := range []string{"<b>", "[1/8](", "http://", "\x1b"} {
		if strings.Contains(strings.ReplaceAll(buf.String(), `\<`, ""), bad) {
			t.Errorf("markup of the design's own: %q", bad)
		}
	}
}

// TestMarksInEveryFormat: a failure with an approval stays visible, says who
// approved it and on which condition, and is told apart from one that counts.
func TestMarksInEveryFormat(t *testing.T) {
	r := sample()[0]
	r.Findings[0].Approval = someBackcheck().Items[1].Later.Approval
	second := r.Findings[0]
	second.Approval, second.Baseline, second.Subject = nil, "existing.json", "b9"
	r.Findings = append(r.Findings, second)
	r.Counts = finding.Count(r.Findings)
	r.Notices = []finding.Problem{{Place: finding.Place{File: "approvals.json", Line: 9, Col: 3, Pointer: "/approvals/1"}, Code: "approval_unmatched", Message: "the approval of x/y for \"z\" (B) matches nothing that was judged"}}
	if r.Counts.Fail != 2 || r.Counts.Errors != 0 || r.Counts.Approved != 1 || r.Counts.Baseline != 1 {
		t.Errorf("counts %+v", r.Counts)
	}
	write := func(format string) string {
		f, err := For(format)
		if err != nil {
			t.Fatal(err)
		}
		var buf bytes.Buffer
		if err := Write(&buf, f, []Entry{r}, Options{Version: "v1", Show: show(), Marked: true}); err != nil {
			t.Fatal(err)
		}
		return buf.String()
	}
	text := write("text")
	for _, want := range []string{
		"does not meet, with an approval on file (1)", "approved with conditions by plan review office on 2026-02-03 (ALT-7), until 2026-12-31", "condition: a cleanout stays in reach", "reason:   the beam stays",
		"does not meet, existing work that stays as it was (1)", "in the baseline existing.json", "1 notice about approvals and baseline", "approvals.json:9:3: the approval of x/y",
		"2 fail (0 errors, 0 warnings, 0 notes, 1 with an approval, 1 of existing work)",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("text lacks %q:\n%s", want, text)
		}
	}
	if strings.Contains(text, "does not meet (") {
		t.Error("a failure that somebody answers for is listed as one that counts")
	}
	findings, err := schema.Compile("findings")
	if err != nil {
		t.Fatal(err)
	}
	if err := findings.Validate(decode(t, []byte(write("json")))); err != nil {
		t.Errorf("JSON breaks its schema: %#v", err)
	}
	// SARIF 2.1.0 section 3.27.23: all results of a run have suppressions or none has.
	out := write("sarif")
	if err := sarifSchema(t).Validate(decode(t, []byte(out))); err != nil {
		t.Errorf("SARIF breaks the standard's schema: %#v", err)
	}
	var log sarifLog
	if err := json.Unmarshal([]byte(out), &log); err != nil {
		t.Fatal(err)
	}
	var got []int
	for _, res := range log.Runs[0].Results {
		if res.Suppressions == nil {
			t.Fatalf("%s has no list of suppressions", res.RuleID)
		}
		got = append(got, len(*res.Suppressions))
		for _, s := range *res.Suppressions {
			if s.Kind != "external" || s.Status != "accepted" || s.Justification == "" {
				t.Errorf("suppression %+v", s)
			}
		}
	}
	if diff := cmp.Diff([]int{1, 0, 0, 0, 1}, got); diff != "" {
		t.Errorf("suppressions -want +got:\n%s", diff)
	}
	if inv := log.Runs[0].Invocations[0]; !inv.ExecutionSuccessful || len(inv.Notifications) != 1 || inv.Notifications[0].Level != "warning" {
		t.Errorf("invocation %+v: a notice is no failed run", inv)
	}
}
