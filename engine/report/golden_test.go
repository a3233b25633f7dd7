package report

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"backpitch/engine/finding"
)

var update = flag.Bool("update", false, "rewrite the expected outputs")

// batch is sample, with what else a report must bear: a failure with an
// approval, one of existing work, and text that a format could take for its own.
func batch() []Entry {
	list := sample()
	excused := list[0].Findings[0]
	excused.Subject, excused.SubjectName, excused.Fingerprint = "b4", `drain "b4"`, strings.Repeat("e", 32)
	excused.Approval = &finding.Approval{GrantedBy: "the plan review office", Reference: "ALT-7", Date: "2026-02-03", Condition: "a cleanout every 25 ft", Reason: "low sewer", Place: finding.Place{File: "approvals.json", Line: 3}}
	existing := list[0].Findings[0]
	existing.Subject, existing.SubjectName, existing.Fingerprint = "b5", `drain "b5"`, strings.Repeat("f", 32)
	existing.Baseline = "baseline.json"
	hostile := list[0].Review
	hostile.File = "c,d:%\r\n.json"
	hostile.Project.Name = `=HYPERLINK("x","y")`
	hostile.Findings = []finding.Finding{excused, existing, list[0].Findings[0], list[0].Findings[3]}
	for i := range hostile.Findings {
		hostile.Findings[i].Place.File = hostile.File
	}
	hostile.Findings[2].Message = "a <b> & \"c\"\x00\n::error::d"
	hostile.Counts = finding.Count(hostile.Findings)
	return append(list, Entry{Review: hostile, Took: 12 * time.Millisecond})
}

func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	file := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), string(got)); diff != "" {
		t.Errorf("output differs from %s (-want +got); -update rewrites it:\n%s", file, diff)
	}
}

// TestGoldens keeps every format, byte for byte.
func TestGoldens(t *testing.T) {
	for _, f := range []string{"text", "json", "ndjson", "sarif", "junit", "codequality", "annotations", "csv", "csv-rules"} {
		t.Run(f, func(t *testing.T) {
			golden(t, "batch."+f, render(t, f, batch(), Options{Version: "v1", Show: show(), Marked: true}))
		})
	}
}

// TestRowsAreEnough holds that a roll-up printed from rows, such as those of
// submissions that are not reviewed again, is the one printed from reviews.
func TestRowsAreEnough(t *testing.T) {
	for _, name := range []string{"csv", "csv-rules"} {
		f, err := For(name)
		if err != nil {
			t.Fatal(err)
		}
		var buf bytes.Buffer
		rows := f.Rows(&buf, Options{})
		for _, e := range batch() {
			data, err := json.Marshal(RowOf(e)) // as a state file keeps it
			if err != nil {
				t.Fatal(err)
			}
			var row Row
			if err := json.Unmarshal(data, &row); err != nil {
				t.Fatal(err)
			}
			if err := rows.Row(row); err != nil {
				t.Fatal(err)
			}
		}
		if err := rows.Close(); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(string(render(t, name, batch(), Options{})), buf.String()); diff != "" {
			t.Errorf("%s from rows differs (-reviews +rows):\n%s", name, diff)
		}
	}
}

// Source: RFC 4180, section 2: lines end in CR LF (1), every line has as many
// fields as the header (4), fields with commas, quotes or line ends are quoted (6).
func TestCSVFollowsRFC4180(t *testing.T) {
	for _, f := range []string{"csv", "csv-rules"} {
		out := render(t, f, batch(), Options{Times: true})
		if n := bytes.Count(out, []byte("\n")); n != bytes.Count(out, []byte("\r\n")) {
			t.Errorf("%s: a line ends without CR", f)
		}
		r := csv.NewReader(bytes.NewReader(out)) // refuses lines of other lengths
		lines, err := r.ReadAll()
		if err != nil {
			t.Fatalf("%s: %v", f, err)
		}
		for _, line := range lines {
			for _, field := range line {
				if field != "" && strings.ContainsAny(field[:1], "=+@\t\r") {
					t.Errorf("%s: a spreadsheet takes %q for a formula", f, field)
				}
			}
		}
	}
}

// TestTimesAreAskedFor holds that no report has a time unless it is wanted.
func TestTimesAreAskedFor(t *testing.T) {
	for _, f := range formats {
		slow, fast := batch(), batch()
		slow[len(slow)-1].Took = time.Hour
		if !bytes.Equal(render(t, f.Name, slow, Options{}), render(t, f.Name, fast, Options{})) {
			t.Errorf("%s: two runs differ by their times", f.Name)
		}
	}
	for name, want := range map[string]string{"csv": ",12\r\n", "text": "     12  c,d", "junit": `time="0.012"`} {
		if out := string(render(t, name, batch(), Options{Times: true})); !strings.Contains(out, want) {
			t.Errorf("%s with times lacks %q", name, want)
		}
	}
}

// Source: the fields that code hosts require of an issue: description,
// check_name, fingerprint (unique), severity (info, minor, major, critical,
// blocker), location.path (relative, without ./) and location.lines.begin;
// docs.gitlab.com/ci/testing/code_quality, "Code Quality report format".
func TestCodeQualityHasWhatHostsRequire(t *testing.T) {
	var issues []map[string]any
	list := batch()
	list[1].File = "./bad.json"
	if err := json.Unmarshal(render(t, "codequality", list, Options{Show: show()}), &issues); err != nil {
		t.Fatal(err)
	}
	if len(issues) != 3+1+1+3 {
		t.Errorf("%d issues, want those that are not passes, the problem and the unreadable file", len(issues))
	}
	seen := map[any]bool{}
	for _, i := range issues {
		for _, key := range []string{"description", "check_name", "fingerprint", "severity"} {
			if s, _ := i[key].(string); s == "" {
				t.Errorf("issue without %s: %v", key, i)
			}
		}
		if s := i["severity"].(string); !strings.Contains(" info minor major critical blocker ", " "+s+" ") {
			t.Errorf("severity %q", s)
		}
		if seen[i["fingerprint"]] {
			t.Errorf("fingerprint twice: %v", i)
		}
		seen[i["fingerprint"]] = true
		location, _ := i["location"].(map[string]any)
		if p, _ := location["path"].(string); p == "" || strings.HasPrefix(p, "./") {
			t.Errorf("path %q", p)
		}
		if begin, _ := location["lines"].(map[string]any)["begin"].(float64); begin < 1 {
			t.Errorf("issue without a line: %v", i)
		}
	}
	moved := batch()
	moved[0].Findings[0].Place.Line = 99
	if a, b := fingerprints(t, batch()), fingerprints(t, moved); !cmp.Equal(a, b) {
		t.Error("a fingerprint changes with the line")
	}
}

func fingerprints(t *testing.T, list []Entry) []string {
	t.Helper()
	return regexp.MustCompile(`"fingerprint": "[0-9a-f]+"`).FindAllString(string(render(t, "codequality", list, Options{Show: show()})), -1)
}

// Source: the grammar of workflow commands, docs.github.com, "Workflow commands
// for GitHub Actions": one line, ::name key=value,key=value::text; % CR LF are
// escaped in text, and : , in values too.
func TestAnnotationsAreWorkflowCommands(t *testing.T) {
	command := regexp.MustCompile(`^::(error|warning|notice) (file=[^,:\r\n]+(,line=\d+,col=\d+)?,)?title=[^,:\r\n]+::[^\r\n]+$`)
	out := string(render(t, "annotations", batch(), Options{Show: show()}))
	for _, line := range strings.Split(strings.TrimSuffix(out, "\n"), "\n") {
		if !command.MatchString(line) {
			t.Errorf("no workflow command: %q", line)
		}
	}
	if !strings.Contains(out, "file=c%2Cd%3A%25%0D%0A.json,line=4,col=5") {
		t.Errorf("the file name is not escaped:\n%s", out)
	}
	if strings.Contains(out, "\n::error::d") {
		t.Error("the text of a design starts a command of its own")
	}
	if n := strings.Count(out, "::warning "); n != 1 || !strings.Contains(out, "::warning file=a b.json,line=5,col=5,title=drain/too_flat (open)::Not shown") {
		t.Errorf("what is open is not marked as a warning:\n%s", out)
	}
}

// TestLimitsAreSaid holds that a limit never gives just a shorter list.
func TestLimitsAreSaid(t *testing.T) {
	var many []Entry
	for i := range 30 {
		e := batch()[0]
		e.File = fmt.Sprintf("%02d.json", i)
		many = append(many, e)
	}
	out := string(render(t, "annotations", many, Options{Show: map[finding.Outcome]bool{finding.Fail: true, finding.PersonDecides: true}}))
	if n := strings.Count(out, "::error "); n != annotationLimit {
		t.Errorf("%d errors marked, want %d", n, annotationLimit)
	}
	// The sentence itself needs the last notice that is shown.
	if n := strings.Count(out, "::notice "); n != annotationLimit {
		t.Errorf("%d notices, want %d with the one that counts", n, annotationLimit)
	}
	if !strings.Contains(out, "20 further errors, 21 further notices not marked: at most 10 of a kind are") {
		t.Errorf("what is left out is not said:\n%s", out)
	}

	out = string(render(t, "codequality", many, Options{Show: show(), MaxResults: 5}))
	if !strings.Contains(out, "85 further issues left out by --max-results 5") {
		t.Errorf("what is left out is not said:\n%s", out)
	}

	out = string(render(t, "sarif", many, Options{MaxResults: 50}))
	if n := strings.Count(out, `"ruleId"`); n != 50 {
		t.Errorf("%d results, want 50", n)
	}
	if !strings.Contains(out, "70 results left out by --max-results 50: 13 fail, 13 open, 14 review, 30 pass.") {
		t.Errorf("what is left out is not said:\n%s", out[len(out)-3000:])
	}
	if err := sarifSchema(t).Validate(decode(t, []byte(out))); err != nil {
		t.Error(err)
	}
}
