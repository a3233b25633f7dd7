package approve

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"backpitch/engine/design"
	"backpitch/engine/finding"
	"backpitch/schema"
)

// one is an approval; change puts other members in or, with null, takes them out.
func one(change string) string {
	all := map[string]any{"rule": "drain/too_flat", "subject": "b1", "reason": "the beam stays", "granted_by": "plan review office", "reference": "ALT-7", "date": "2026-02-03"}
	var other map[string]any
	if err := json.Unmarshal([]byte(change), &other); err != nil {
		panic(err)
	}
	for key, v := range other {
		if all[key] = v; v == nil {
			delete(all, key)
		}
	}
	text, err := json.Marshal(all)
	if err != nil {
		panic(err)
	}
	return string(text)
}

func file(approvals ...string) []byte {
	return []byte("{\"approvals\": [\n" + strings.Join(approvals, ",\n") + "\n]}")
}

func read(t *testing.T, approvals ...string) *Approvals {
	t.Helper()
	a, problems := ReadApprovals("a.json", file(approvals...), design.Limits{})
	if a == nil {
		t.Fatal(problems)
	}
	return a
}

func TestBadApprovalsAreRefusedWithTheirPlace(t *testing.T) {
	for _, tt := range []struct{ in, code, place, pointer, message, hint string }{
		{``, "empty_file", "1:1", "", "the file is empty", `an approvals file starts with "{"`},
		{`{"approvals": []} []`, "trailing_data", "1:19", "", "the end of the approvals file", "a file holds one approvals file"},
		{`{"approvals": [], "aprovals": []}`, "unknown_key", "1:19", "/aprovals", `no key "aprovals"`, `did you mean "approvals"?`},
		{"{\"approvals\": [],\n \"approvals\": []}", "duplicate_key", "2:2", "/approvals", "given twice", ""},
		{`{"approvals": [` + one(`{"expire": "2026-01-01"}`) + `]}`, "unknown_key", "1:37", "/approvals/0/expire", `no key "expire"`, `did you mean "expires"?`},
		{`{"approvals": [` + one(`{"granted_by": null}`) + `]}`, "missing_key", "1:16", "/approvals/0", `needs the key "granted_by"`, "Who granted it"},
		{`{"approvals": [` + one(`{"rule": "drain/*"}`) + `]}`, "bad_text", "", "/approvals/0/rule", `"drain/*" is not a rule id`, "never for a pattern"},
		{`{"approvals": [` + one(`{"rule": "*"}`) + `]}`, "bad_text", "", "/approvals/0/rule", `"*" is not a rule id`, "never for a pattern"},
		{`{"approvals": [` + one(`{"subject": "*"}`) + `]}`, "bad_text", "", "/approvals/0/subject", `"*" is not a subject`, "never for a pattern"},
		{`{"approvals": [` + one(`{"subject": "b?"}`) + `]}`, "bad_text", "", "/approvals/0/subject", `"b?" is not a subject`, ""},
		{`{"approvals": [` + one(`{"subject": ["b1", "b2"]}`) + `]}`, "wrong_type", "", "/approvals/0/subject", "is a list, not text", ""},
		{`{"approvals": [` + one(`{"reason": ""}`) + `]}`, "empty_text", "", "/approvals/0/reason", `"reason" is empty`, ""},
		{`{"approvals": [` + one(`{"reason": "a\nb"}`) + `]}`, "control_character", "", "/approvals/0/reason", "control character", ""},
		{`{"approvals": [` + one(`{"date": "3 February 2026"}`) + `]}`, "bad_text", "", "/approvals/0/date", "is not a date", "year-month-day"},
		{`{"approvals": [` + one(`{"date": "2026-02-30"}`) + `]}`, "bad_date", "", "/approvals/0/date", `"2026-02-30" is not a day of the calendar`, "2026-02-03"},
		{`{"approvals": [` + one(`{"expires": "2027-02-29"}`) + `]}`, "bad_date", "", "/approvals/0/expires", "not a day", ""},
		{`{"approvals": [` + one(`{"expires": "2026-02-02"}`) + `]}`, "expires_first", "", "/approvals/0/expires", "before it is granted on 2026-02-03", ""},
		{string(file(one(`{}`), one(`{}`))), "duplicate_approval", "3:1", "/approvals/1", "already on line 2", "a reference of its own"},
		{`{"approvals": ` + strings.Repeat("[", 1000), "max_depth", "1:78", "/approvals" + strings.Repeat("/0", 62), "nested 1001 deep; max-depth is 64", "--max-depth raises the limit"},
		{"\xff\xfe{\x00", "wrong_encoding", "1:1", "", "UTF-16", ""},
	} {
		a, problems := ReadApprovals("a.json", []byte(tt.in), design.Limits{})
		if a != nil || len(problems) != 1 {
			t.Errorf("%s: %v, want one problem", tt.in, problems)
			continue
		}
		p := problems[0]
		place := fmt.Sprintf("%d:%d", p.Place.Line, p.Place.Col)
		if p.Code != tt.code || p.Place.File != "a.json" || tt.pointer != "" && p.Place.Pointer != tt.pointer || tt.place != "" && place != tt.place ||
			!strings.Contains(p.Message, tt.message) || !strings.Contains(p.Hint, tt.hint) {
			t.Errorf("%s:\n got %s %s %s: %s (%s)\nwant %s %s %s: …%s… (…%s…)", tt.in, p.Code, place, p.Place.Pointer, p.Message, p.Hint, tt.code, tt.place, tt.pointer, tt.message, tt.hint)
		}
	}
}

func finds(rule, subject string, outcome finding.Outcome, measured string) finding.Finding {
	f := finding.Finding{Rule: rule, Subject: subject, Outcome: outcome, Level: finding.Error, Message: "drain " + subject + ": " + measured, Fingerprint: finding.Fingerprint(rule, subject),
		Place: finding.Place{File: "d.json", Line: 3, Col: 1, Pointer: "/pipes/0"}, Basis: finding.Checked}
	if measured != "" {
		f.Measured = &finding.Quantity{Kind: "text", Text: measured}
	}
	return f
}

func judged(findings ...finding.Finding) finding.Review {
	return finding.Review{File: "d.json", Project: finding.Project{Name: "Kiln room", Reference: "KR-1"}, Rules: 2, Findings: findings, Counts: finding.Count(findings),
		Elements: []finding.Element{{ID: "b1", Kind: "drain", Value: json.RawMessage(`{"id":"b1","slope":"1 %"}`)}}}
}

func codes(list []finding.Problem) string {
	var out []string
	for _, p := range list {
		out = append(out, p.Code)
	}
	return strings.Join(out, " ")
}

func TestMark(t *testing.T) {
	flat := finds("drain/too_flat", "b1", finding.Fail, "1 %")
	for _, tt := range []struct {
		name      string
		approvals []string
		asOf      string
		finding   finding.Finding
		mark      string // reference of the approval
		notices   string
		says      string
	}{
		{"matches", []string{one(`{"condition":"a cleanout stays in reach"}`)}, "", flat, "ALT-7", "", ""},
		{"last day", []string{one(`{"expires":"2026-03-01"}`)}, "2026-03-01", flat, "ALT-7", "", ""},
		{"the day after", []string{one(`{"expires":"2026-03-01"}`)}, "2026-03-02", flat, "", "approval_expired", "expired on 2026-03-01, before 2026-03-02: the failure counts"},
		{"first day", []string{one(`{}`)}, "2026-02-03", flat, "ALT-7", "", ""},
		{"the day before", []string{one(`{}`)}, "2026-02-02", flat, "", "approval_not_yet", "granted on 2026-02-03, after 2026-02-02"},
		{"renewed", []string{one(`{"expires":"2026-03-01"}`), one(`{"reference":"ALT-9","date":"2026-03-01"}`)}, "2026-04-01", flat, "ALT-9", "approval_expired", "ALT-9 holds instead"},
		{"the latest of two", []string{one(`{"reference":"ALT-9","date":"2026-03-01"}`), one(`{}`)}, "", flat, "ALT-9", "", ""},
		{"passes now", []string{one(`{}`)}, "", finds("drain/too_flat", "b1", finding.Pass, "2 %"), "", "approval_not_needed", "no longer needed"},
		{"open", []string{one(`{}`)}, "", finds("drain/too_flat", "b1", finding.Open, ""), "", "approval_not_taken", "is not taken"},
		{"a person decides", []string{one(`{}`)}, "", finds("drain/too_flat", "b1", finding.PersonDecides, ""), "", "approval_not_taken", "is not taken"},
		{"another subject", []string{one(`{"subject":"b11"}`)}, "", flat, "", "approval_unmatched", "matches nothing"},
		{"another rule", []string{one(`{"rule":"drain/to_flat"}`)}, "", flat, "", "approval_unmatched", "matches nothing"},
		{"a part of the subject", []string{one(`{"subject":"b1/bend-1"}`)}, "", flat, "", "approval_unmatched", ""},
		{"this project", []string{one(`{"project":"KR-1"}`)}, "", flat, "ALT-7", "", ""},
		{"another project", []string{one(`{"project":"KR-2"}`)}, "", flat, "", "", ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			desk := &Desk{Approvals: read(t, tt.approvals...), AsOf: tt.asOf}
			r := judged(tt.finding)
			got := desk.Mark(r)
			mark := ""
			if a := got.Findings[0].Approval; a != nil {
				mark = a.Reference
			}
			if mark != tt.mark || codes(got.Notices) != tt.notices {
				t.Errorf("mark %q, notices %v; want mark %q, notices %q", mark, got.Notices, tt.mark, tt.notices)
			}
			if len(got.Notices) > 0 && !strings.Contains(got.Notices[0].Message, tt.says) {
				t.Errorf("notice %q, want …%s…", got.Notices[0].Message, tt.says)
			}
			if got.Findings[0].Outcome != tt.finding.Outcome {
				t.Error("the outcome has changed")
			}
			if c := got.Counts; tt.finding.Outcome == finding.Fail && (c.Fail != 1 || c.Approved+c.Errors != 1 || (c.Approved == 1) != (tt.mark != "")) {
				t.Errorf("counts %+v", c)
			}
			if r.Findings[0].Approval != nil || r.Notices != nil {
				t.Error("the review that was given has changed")
			}
		})
	}
}

func TestUnmatchedSaysWhatWasMeant(t *testing.T) {
	r := judged(finds("drain/too_flat", "branch-1", finding.Fail, "1 %"), finds("vent/too_small", "v1", finding.Pass, "2 in"))
	for approval, hint := range map[string]string{
		one(`{"subject":"brnach-1"}`):                        `did you mean "branch-1"?`,
		one(`{"rule":"drain/too_flt","subject":"branch-1"}`): `did you mean "drain/too_flat"?`,
	} {
		got := (&Desk{Approvals: read(t, approval)}).Mark(r)
		if len(got.Notices) != 1 || got.Notices[0].Hint != hint || got.Notices[0].Place.Line != 2 {
			t.Errorf("%s: %+v, want the hint %s", approval, got.Notices, hint)
		}
	}
}

// TestSeveralDesigns: an approval without a project could excuse a failure of a
// design that nobody had in mind.
func TestSeveralDesigns(t *testing.T) {
	desk := &Desk{Approvals: read(t, one(`{}`), one(`{"project":"KR-1","reference":"B"}`)), Several: true}
	if got := codes(desk.Check()); got != "no_project" {
		t.Errorf("check: %q", got)
	}
	desk = &Desk{Approvals: read(t, one(`{"project":"KR-1","reference":"A"}`), one(`{"project":"KR-2","reference":"B"}`), one(`{"project":"KR-3","reference":"C"}`)), Several: true}
	if got := desk.Check(); got != nil {
		t.Errorf("check: %v", got)
	}
	var wg sync.WaitGroup
	for i := range 6 {
		wg.Go(func() {
			r := judged(finds("drain/too_flat", "b1", finding.Fail, "1 %"))
			r.File = fmt.Sprintf("d%d.json", i)
			if i == 5 {
				r.Project.Reference = "KR-2"
			}
			want := map[bool]string{true: "B", false: "A"}[i == 5]
			if got := desk.Mark(r); got.Findings[0].Approval == nil || got.Findings[0].Approval.Reference != want {
				t.Errorf("%s: %+v, want %s", r.File, got.Findings[0].Approval, want)
			}
		})
	}
	wg.Wait()
	rest := desk.Rest()
	if codes(rest) != "shared_project other_project" || !strings.Contains(rest[0].Message, "5 designs of this run have it: d0.json, d1.json") || !strings.Contains(rest[1].Message, `"KR-3"`) {
		t.Errorf("rest: %v", rest)
	}
}

func TestAnUnjudgedDesignHasNoMarks(t *testing.T) {
	desk := &Desk{Approvals: read(t, one(`{}`))}
	r := finding.Review{File: "d.json", Failure: "gone"}
	if diff := cmp.Diff(r, desk.Mark(r)); diff != "" {
		t.Error(diff)
	}
	if rest := desk.Rest(); len(rest) > 0 {
		t.Errorf("rest: %v", rest)
	}
}

func baseline(t *testing.T, data []byte) *Baseline {
	t.Helper()
	b, problems := ReadBaseline("base.json", data, design.Limits{})
	if b == nil {
		t.Fatal(problems)
	}
	return b
}

// saved is a review as `review --format json` writes it.
func saved(t *testing.T, reviews ...finding.Review) []byte {
	t.Helper()
	for i := range reviews {
		reviews[i].Problems = []finding.Problem{}
	}
	var c finding.Counts
	data, err := json.Marshal(map[string]any{"$schema": "findings.schema.json", "tool": map[string]any{"name": "backpitch", "version": "v"}, "reviews": reviews, "totals": c, "cautions": []string{}})
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func written(t *testing.T, r finding.Review) []byte {
	t.Helper()
	var buf bytes.Buffer
	if err := WriteBaseline(&buf, r, r.Findings); err != nil {
		t.Fatal(err)
	}
	s, err := schema.Compile("baseline")
	if err != nil {
		t.Fatal(err)
	}
	var v any
	if err := json.Unmarshal(buf.Bytes(), &v); err != nil {
		t.Fatal(err)
	}
	if err := s.Validate(v); err != nil {
		t.Errorf("baseline breaks its schema: %#v", err)
	}
	return buf.Bytes()
}

func TestBaseline(t *testing.T) {
	then := judged(finds("drain/too_flat", "b1", finding.Fail, "1 %"))
	steeper := judged(finds("drain/too_flat", "b1", finding.Fail, "1 %"))
	steeper.Elements = []finding.Element{{ID: "b1", Kind: "drain", Value: json.RawMessage(`{"slope":"1 %","id":"b1","size":"4 in"}`)}}
	sameElsewhere := judged(finds("drain/too_flat", "b1", finding.Fail, "1 %"))
	sameElsewhere.File, sameElsewhere.Findings[0].Place.Line = "other.json", 99
	sameElsewhere.Elements = []finding.Element{{ID: "b1", Kind: "drain", Value: json.RawMessage("{ \"slope\": \"1 %\",\n\"id\": \"b1\" }")}}
	for _, tt := range []struct {
		name     string
		now      finding.Review
		kept     bool
		notices  string
		says     string
		reviewed string
	}{
		{"as it was", then, true, "", "", ""},
		{"renamed file, moved line, other order of keys", sameElsewhere, true, "", "", ""},
		{"another value", judged(finds("drain/too_flat", "b1", finding.Fail, "0.5 %")), false, "baseline_changed", "with 1 %, now it is 0.5 %: the failure counts", ""},
		{"the element was touched", steeper, false, "baseline_changed", "the element has changed", ""},
		{"mended", judged(finds("drain/too_flat", "b1", finding.Pass, "2 %")), false, "baseline_not_needed", "no longer needs drain/too_flat", ""},
		{"gone", judged(finds("drain/too_flat", "b2", finding.Pass, "2 %")), false, "baseline_not_needed", "not judged", ""},
	} {
		for how, data := range map[string][]byte{"saved review": saved(t, then), "baseline": written(t, then)} {
			t.Run(tt.name+"/"+how, func(t *testing.T) {
				got := (&Desk{Baseline: baseline(t, data)}).Mark(tt.now)
				f := got.Findings[0]
				if (f.Baseline == "base.json") != tt.kept || codes(got.Notices) != tt.notices {
					t.Errorf("baseline %q, notices %v; want kept %v, notices %q", f.Baseline, got.Notices, tt.kept, tt.notices)
				}
				if len(got.Notices) > 0 && (!strings.Contains(got.Notices[0].Message, tt.says) || got.Notices[0].Place.File != "base.json") {
					t.Errorf("notice %+v, want …%s…", got.Notices[0], tt.says)
				}
				if tt.kept && (got.Counts.Baseline != 1 || got.Counts.Errors != 0 || got.Counts.Fail != 1) {
					t.Errorf("counts %+v", got.Counts)
				}
			})
		}
	}
}

// TestBaselineOfManyProjects: each design has its own entries, and what no
// design of the run needs is one line.
func TestBaselineOfManyProjects(t *testing.T) {
	var then []finding.Review
	for i := range 9 {
		r := judged(finds("drain/too_flat", "b1", finding.Fail, "1 %"), finds("vent/too_small", "b1", finding.Fail, "x"))
		r.File, r.Project.Reference = fmt.Sprintf("d%d.json", i), fmt.Sprintf("KR-%d", i)
		then = append(then, r)
	}
	desk := &Desk{Baseline: baseline(t, saved(t, then...)), Several: true}
	if problems := desk.Check(); problems != nil {
		t.Fatal(problems)
	}
	for _, r := range then[:2] {
		if got := desk.Mark(r); got.Counts.Baseline != 2 || got.Notices != nil {
			t.Errorf("%s: %+v, notices %v", r.File, got.Counts, got.Notices)
		}
	}
	rest := desk.Rest()
	if codes(rest) != "other_project" || !strings.HasSuffix(rest[0].Message, `"KR-2", "KR-3", "KR-4", "KR-5", "KR-6" and 2 more`) {
		t.Errorf("rest: %v", rest)
	}
}

// TestReadmeExample: the approvals file that README shows can be read.
func TestReadmeExample(t *testing.T) {
	readme, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	_, after, found := strings.Cut(string(readme), "```json\n{ \"approvals\"")
	text, _, _ := strings.Cut(after, "```")
	a, problems := ReadApprovals("README.md", []byte(`{ "approvals"`+text), design.Limits{})
	if !found || len(problems) > 0 || len(a.list) != 1 {
		t.Errorf("found %v, %v", found, problems)
	}
}

// TestAnApprovalIsNoBaseline: an approval may expire; saved, it must not become
// existing work for ever.
func TestAnApprovalIsNoBaseline(t *testing.T) {
	r := (&Desk{Approvals: read(t, one(`{}`))}).Mark(judged(finds("drain/too_flat", "b1", finding.Fail, "1 %")))
	if b := baseline(t, saved(t, r)); len(b.entries) != 0 {
		t.Errorf("entries %+v", b.entries)
	}
}

func TestBadBaselines(t *testing.T) {
	r := judged(finds("drain/too_flat", "b1", finding.Fail, "1 %"))
	forged := judged(finds("drain/too_flat", "b1", finding.Fail, "1 %"))
	forged.Findings[0].Fingerprint = strings.Repeat("0", 32)
	twice := judged(finds("drain/too_flat", "b1", finding.Fail, "1 %"), finds("drain/too_flat", "b1", finding.Pass, "1 %"))
	entry := func(fp string) string {
		return `{"fingerprint":"` + fp + `","rule":"drain/too_flat","subject":"b1"}`
	}
	good := finding.Fingerprint("drain/too_flat", "b1")
	for in, code := range map[string]string{
		string(saved(t, forged)):                                "wrong_fingerprint",
		string(saved(t, twice)):                                 "repeated_finding",
		string(saved(t, r, r)):                                  "repeated_project",
		`{"entries":[` + entry(strings.Repeat("0", 32)) + `]}`:  "wrong_fingerprint",
		`{"entries":[` + entry("x") + `]}`:                      "bad_text",
		`{"entries":[` + entry(good) + `,` + entry(good) + `]}`: "duplicate_entry",
		`{"entires":[]}`:                                        "missing_key unknown_key",
		strings.Replace(string(saved(t, r)), `"line":3`, `"line":99999999999999999999999999`, 1): "out_of_range",
		strings.Replace(string(saved(t, r)), `"outcome":"fail"`, `"outcome":"maybe"`, 1):         "unknown_word",
		strings.Replace(string(saved(t, r)), `"message"`, `"mesage"`, 1):                         "missing_key unknown_key",
		string(saved(t, r)[:500]): "unexpected_end",
	} {
		b, problems := ReadBaseline("base.json", []byte(in), design.Limits{})
		if b != nil || codes(problems) != code {
			t.Errorf("%.200s: %v, want %s", in, problems, code)
		}
		for _, p := range problems {
			if p.Place.File != "base.json" || p.Code != "repeated_project" && p.Place.Line == 0 {
				t.Errorf("%s: place %+v", code, p.Place)
			}
		}
	}
}
