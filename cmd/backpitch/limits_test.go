package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/urfave/cli/v2"

	"backpitch/engine/finding"
	"backpitch/engine/limit"
)

// measured is what the library's own reader of JSON finds in a document.
type measured struct{ bytes, depth, values, elements, digits, text int }

func measure(t *testing.T, data []byte) measured {
	t.Helper()
	m := measured{bytes: len(data)}
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.UseNumber()
	var tree any
	if err := dec.Decode(&tree); err != nil {
		t.Fatal(err)
	}
	var walk func(v any, depth int)
	walk = func(v any, depth int) {
		m.values++
		switch v := v.(type) {
		case map[string]any:
			m.depth = max(m.depth, depth+1)
			if _, ok := v["id"]; ok {
				m.elements++
			}
			for key, member := range v {
				m.text = max(m.text, len(key))
				walk(member, depth+1)
			}
		case []any:
			m.depth = max(m.depth, depth+1)
			for _, item := range v {
				walk(item, depth+1)
			}
		case json.Number:
			m.digits = max(m.digits, len(v.String()))
		case string:
			m.text = max(m.text, len(v)) // the demos have no escapes
		}
	}
	walk(tree, 0)
	return m
}

// reviewJSON runs review --format json and returns its one review.
func reviewJSON(t *testing.T, args ...string) (finding.Review, int) {
	t.Helper()
	stdout, stderr, code := command(t, append([]string{"review", "--format", "json"}, args...)...)
	var got struct{ Reviews []finding.Review }
	if err := json.Unmarshal([]byte(stdout), &got); err != nil || len(got.Reviews) != 1 || stderr != "" {
		t.Fatalf("%v: %v, %d reviews, %s", args, err, len(got.Reviews), stderr)
	}
	return got.Reviews[0], code
}

// TestLimitsOfADesign holds for each limit that a design just at it is judged,
// and that one just beyond is refused by every command that reads designs:
// with the same words in text and in JSON, and exit code 2.
func TestLimitsOfADesign(t *testing.T) {
	const small = `{"project":{"name":"limits"},"building":{"storeys":12},"profile":"ipc-2021","junctions":[{"id":"a"},{"id":"b"}]}`
	file := filepath.Join(t.TempDir(), "d.json")
	if err := os.WriteFile(file, []byte(small), 0o644); err != nil {
		t.Fatal(err)
	}
	m := measure(t, []byte(small))
	place := func(of string) string { return fmt.Sprintf("1:%d", strings.Index(small, of)+1) }
	plain, plainCode := reviewJSON(t, file)
	for _, c := range []struct {
		limit   limit.Limit
		at      int
		place   string
		message string
	}{
		{limit.Bytes, m.bytes, "1:1", "the file has %d bytes"},
		{limit.Depth, m.depth, place(`{"id":"a"}`), "objects and lists are nested %d deep"},
		{limit.Values, m.values, place(`"b"`), "the file has %d values"},
		{limit.Elements, m.elements, "1:1", "the design has %d elements"},
		{limit.Digits, m.digits, place("12"), "the number has %d digits"},
		{limit.Text, m.text, place(`"junctions"`), "the text has %d bytes"},
	} {
		t.Run(c.limit.Name, func(t *testing.T) {
			at := fmt.Sprintf("--%s=%d", c.limit.Name, c.at)
			beyond := fmt.Sprintf("--%s=%d", c.limit.Name, c.at-1)
			got, code := reviewJSON(t, at, file)
			if diff := cmp.Diff(plain, got); diff != "" || code != plainCode {
				t.Errorf("at the limit: exit %d; differs from no limit (-want +got):\n%s", code, diff)
			}

			got, code = reviewJSON(t, beyond, file)
			message := fmt.Sprintf(c.message+"; %s is %d", c.at, c.limit.Name, c.at-1)
			hint := "--" + c.limit.Name + " raises the limit"
			if len(got.Problems) != 1 || code != exitNotChecked || got.Failure != "" || len(got.Findings) > 0 {
				t.Fatalf("beyond the limit: exit %d, %+v", code, got)
			}
			p := got.Problems[0]
			if p.Message != message || p.Hint != hint || p.Code != strings.ReplaceAll(c.limit.Name, "-", "_") || fmt.Sprintf("%d:%d", p.Place.Line, p.Place.Col) != c.place {
				t.Errorf("got %d:%d %s: %s (%s)\nwant %s %s (%s)", p.Place.Line, p.Place.Col, p.Code, p.Message, p.Hint, c.place, message, hint)
			}

			stdout, _, code := command(t, "review", beyond, file)
			if want := fmt.Sprintf("%s:%s: %s\n    hint: %s\n", file, c.place, message, hint); code != exitNotChecked || !strings.Contains(stdout, want) {
				t.Errorf("text, exit %d: got\n%s\nwant\n%s", code, stdout, want)
			}
			for _, args := range [][]string{{"facts", file}, {"calcs", file}, {"draw", file}, {"backcheck", file, file}, {"review", "--explain", "drain/too_flat", "a", file}} {
				stdout, stderr, code := command(t, append([]string{args[0], beyond}, args[1:]...)...)
				if code != exitNotChecked || stdout != "" || !strings.Contains(stderr, message) || !strings.Contains(stderr, hint) {
					t.Errorf("%v: exit %d, %s%s", args, code, stdout, stderr)
				}
			}
		})
	}
}

// TestDefaultLimits holds that the defaults are those of the table: a file of
// exactly so many bytes is judged, one byte more is not.
func TestDefaultLimits(t *testing.T) {
	design := []byte(`{"project":{"name":"x"},"building":{},"profile":"ipc-2021"}`)
	file := filepath.Join(t.TempDir(), "d.json")
	for more, want := range []int{exitClean, exitNotChecked} {
		data := append(slices.Clone(design), bytes.Repeat([]byte(" "), limit.Bytes.Default+more-len(design))...)
		if err := os.WriteFile(file, data, 0o644); err != nil {
			t.Fatal(err)
		}
		for name, stdin := range map[string][]byte{file: nil, "-": data} {
			var stdout, stderr bytes.Buffer
			code := run(context.Background(), []string{"backpitch", "review", name}, bytes.NewReader(stdin), &stdout, &stderr)
			if code != want || strings.Contains(stdout.String(), "max-bytes is 16777216") != (want == exitNotChecked) {
				t.Errorf("%s with %d bytes more: exit %d, %s", name, more, code, stdout.String())
			}
		}
	}
}

// TestProblemsAreLimited holds that those of the document and those of the
// network are cut alike, and counted.
func TestProblemsAreLimited(t *testing.T) {
	var unknown, dangling strings.Builder
	for i := range 5 {
		fmt.Fprintf(&unknown, `,"k%d":1`, i)
		fmt.Fprintf(&dangling, `,{"id":"p%d","service":"drain","from":"a","to":"nowhere%d"}`, i, i)
	}
	for name, text := range map[string]string{
		"document": `{"project":{"name":"x"},"building":{}` + unknown.String() + `}`,
		"network":  `{"project":{"name":"x"},"building":{},"profile":"ipc-2021","junctions":[{"id":"a"}],"pipes":[` + dangling.String()[1:] + `]}`,
	} {
		file := filepath.Join(t.TempDir(), "d.json")
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		all, code := reviewJSON(t, file)
		if n := len(all.Problems); n < 5 || code != exitNotChecked {
			t.Fatalf("%s: %d problems, exit %d", name, n, code)
		}
		n := len(all.Problems)
		if at, _ := reviewJSON(t, "--max-problems", fmt.Sprint(n), file); cmp.Diff(all, at) != "" {
			t.Errorf("%s: at the limit: %s", name, cmp.Diff(all, at))
		}
		cut, code := reviewJSON(t, "--max-problems", fmt.Sprint(n-1), file)
		last := cut.Problems[len(cut.Problems)-1]
		if code != exitNotChecked || cmp.Diff(all.Problems[:n-1], cut.Problems[:n-1]) != "" || len(cut.Problems) != n || last.Code != "max_problems" ||
			last.Message != fmt.Sprintf("1 more problem is not listed; max-problems is %d", n-1) || last.Hint != "mend the first ones and review again; --max-problems raises the limit" {
			t.Errorf("%s: exit %d, %+v", name, code, cut.Problems)
		}
		for _, args := range [][]string{{"facts", file}, {"calcs", file}} {
			if _, stderr, code := command(t, append(args, "--max-problems", fmt.Sprint(n-1))...); code != exitNotChecked || !strings.Contains(stderr, last.Message) {
				t.Errorf("%s, %v: exit %d, %s", name, args, code, stderr)
			}
		}
	}
}

// TestResultsAreLimited holds for each format that cuts: at the limit nothing
// is said and the exit code is that of the findings; beyond it what is left
// out is counted in the report and on standard error, and the exit code is 2.
func TestResultsAreLimited(t *testing.T) {
	whole, _ := reviewJSON(t, flawed)
	c := whole.Counts
	shown := c.Fail + c.Open + c.Review
	for format, f := range map[string]struct {
		most int // that is printed without a limit
		said string
	}{
		"text":        {shown, "1 finding left out by --max-results %d: "},
		"sarif":       {shown, "left out by --max-results %d: "},
		"codequality": {shown, "1 further issue left out by --max-results %d."},
		"annotations": {max(c.Errors, c.Warnings+c.Open, c.Notes+c.Review), "further error not marked"},
	} {
		args := []string{"review", "--format", format, "--max-results"}
		stdout, stderr, code := command(t, append(args, fmt.Sprint(f.most), flawed)...)
		if format != "sarif" && strings.Contains(stdout, "left out") || stderr != "" || code != exitFindings {
			t.Errorf("%s at the limit: exit %d, %s", format, code, stderr)
		}
		stdout, stderr, code = command(t, append(args, fmt.Sprint(f.most-1), flawed)...)
		want := fmt.Sprintf("backpitch: 1 finding is left out of the report; max-results is %d\n    hint: --max-results raises the limit\n", f.most-1)
		said := f.said
		if strings.Contains(said, "%d") {
			said = fmt.Sprintf(said, f.most-1)
		}
		if stderr != want || code != exitNotChecked || !strings.Contains(stdout, said) {
			t.Errorf("%s beyond the limit: exit %d, %s; want %q said in …%.400s", format, code, stderr, said, stdout[max(0, len(stdout)-1500):])
		}

		out := t.TempDir()
		for range 2 { // the second time the reports stand
			_, stderr, code = command(t, "review", "--format", format, "--out-dir", out, "--skip-unchanged", "--max-results", fmt.Sprint(f.most-1), flawed, studio)
			if stderr != want || code != exitNotChecked {
				t.Errorf("%s into a folder: exit %d, %s", format, code, stderr)
			}
		}
	}
	// The host's own limit is no limit of the run.
	if _, stderr, code := command(t, "review", "--format", "annotations", flawed); code != exitFindings || stderr != "" {
		t.Errorf("annotations: exit %d, %s", code, stderr)
	}
	// What is never cut takes no limit.
	for _, args := range [][]string{{"--format", "json"}, {"--format", "html"}, {"--stream"}, {"--profile", "ipc-2021,chicago"}} {
		_, stderr, code := command(t, slices.Concat([]string{"review", "--max-results", "5"}, args, []string{flawed})...)
		if want := "backpitch: --max-results is for text, sarif, codequality, annotations\n"; code != exitNotChecked || !strings.HasPrefix(stderr, want) {
			t.Errorf("%v: exit %d, %s", args, code, stderr)
		}
	}
}

// TestDesignsAreLimited holds that too many are refused before any is judged.
func TestDesignsAreLimited(t *testing.T) {
	in := folder(t, 7)
	if _, stderr, _ := command(t, "review", "--format", "csv", "--max-designs", "7", in); stderr != "" {
		t.Errorf("at the limit: %s", stderr)
	}
	for _, args := range [][]string{{in}, {in + "/*.json"}, {in + "/s000.json", in}, {"--out-dir", filepath.Join(t.TempDir(), "out"), "--format", "json", in}} {
		stdout, stderr, code := command(t, append([]string{"review", "--max-designs", "6"}, args...)...)
		want := "backpitch: the paths name more than 6 files, and none was read; max-designs is 6\n    hint: --max-designs raises the limit\n"
		if code != exitNotChecked || stdout != "" || stderr != want {
			t.Errorf("%v: exit %d, %s%s", args, code, stdout, stderr)
		}
		if len(args) > 2 {
			if _, err := os.Stat(args[1]); err == nil {
				t.Errorf("the folder was made")
			}
		}
	}
}

// TestLinesAreLimited holds that a line of a stream is as long as a file, that
// a longer one is measured, and that the lines around it are judged.
func TestLinesAreLimited(t *testing.T) {
	const line = `{"project":{"name":"x"},"building":{},"profile":"ipc-2021"}`
	in := line + "\n" + line + " \r\n" + line + "\n" + line + " "
	var stdout, stderr bytes.Buffer
	code := run(context.Background(), []string{"backpitch", "review", "--stream", "--max-bytes", fmt.Sprint(len(line))}, strings.NewReader(in), &stdout, &stderr)
	var got []string
	for text := range strings.Lines(stdout.String()) {
		var r struct {
			Line     int
			Rules    int
			Problems []finding.Problem
		}
		if err := json.Unmarshal([]byte(text), &r); err != nil {
			t.Fatal(err)
		}
		said := "judged"
		if len(r.Problems) == 1 && r.Rules == 0 {
			p := r.Problems[0]
			said = fmt.Sprintf("%d:%d %s: %s", p.Place.Line, p.Place.Col, p.Code, p.Message)
		}
		got = append(got, fmt.Sprintf("%d %s", r.Line, said))
	}
	over := fmt.Sprintf("max_bytes: the line has %d bytes; max-bytes is %d", len(line)+1, len(line))
	if diff := cmp.Diff([]string{"1 judged", "2 2:1 " + over, "3 judged", "4 4:1 " + over}, got); diff != "" || code != exitNotChecked || stderr.Len() > 0 {
		t.Errorf("exit %d, %s\n%s", code, &stderr, diff)
	}
}

// TestABatchGoesOn holds that one design over a limit stops no other.
func TestABatchGoesOn(t *testing.T) {
	stdout, stderr, code := command(t, "review", "--format", "csv", "--max-elements", "34", sketch, studio)
	if code != exitNotChecked || stderr != "" || strings.Count(stdout, ",not checked,") != 1 || strings.Count(stdout, "\r\n") != 3 {
		t.Errorf("exit %d, %s%s", code, stdout, stderr)
	}
}

// TestFlagsOfLimits holds that what cannot be a limit is refused by name.
func TestFlagsOfLimits(t *testing.T) {
	for _, l := range limit.All {
		if l.Name == limit.Time.Name {
			continue // a duration; testdata/scripts has it
		}
		for _, n := range []int{-1, 0, l.Least - 1, l.Most + 1} {
			_, stderr, code := command(t, "review", fmt.Sprintf("--%s=%d", l.Name, n), sketch)
			if want := fmt.Sprintf("backpitch: --%s must be from %d to %d, not %d\n", l.Name, l.Least, l.Most, n); code != exitNotChecked || stderr != want {
				t.Errorf("%s %d: exit %d, %s", l.Name, n, code, stderr)
			}
		}
		for _, word := range []string{"many", "1e3", "99999999999999999999", ""} {
			_, stderr, code := command(t, "review", fmt.Sprintf("--%s=%s", l.Name, word), sketch)
			if code != exitNotChecked || !strings.Contains(stderr, "flag -"+l.Name) {
				t.Errorf("%s %q: exit %d, %s", l.Name, word, code, stderr)
			}
		}
	}
}

// TestCommandsHaveTheLimits holds that whatever reads a design has every limit
// of one.
func TestCommandsHaveTheLimits(t *testing.T) {
	app := newApp(strings.NewReader(""), &bytes.Buffer{}, &bytes.Buffer{})
	judging := map[string]bool{"review": true, "calcs": true, "draw": true, "backcheck": true, "exercise new": true, "exercise new-rule": true}
	seen := 0
	var walk func(prefix string, list []*cli.Command)
	walk = func(prefix string, list []*cli.Command) {
		for _, c := range list {
			name := strings.TrimSpace(prefix + " " + c.Name)
			walk(name, c.Subcommands)
			if !judging[name] && name != "facts" {
				continue
			}
			seen++
			want := slices.Clone(designLimits)
			if judging[name] {
				want = append(want, limit.Time, limit.Memory)
			}
			for _, l := range want {
				if !slices.ContainsFunc(c.Flags, func(f cli.Flag) bool { return f.Names()[0] == l.Name }) {
					t.Errorf("%s has no --%s", name, l.Name)
				}
			}
		}
	}
	walk("", app.Commands)
	if seen != len(judging)+1 {
		t.Errorf("%d of %d commands were found", seen, len(judging)+1)
	}
}

// TestOwnFilesAreLimited holds the limits of files that are no designs.
func TestOwnFilesAreLimited(t *testing.T) {
	dir := t.TempDir()
	long := filepath.Join(dir, "approvals.json")
	if err := os.WriteFile(long, []byte(`{"approvals":[]}`+strings.Repeat(" ", 4000)), 0o644); err != nil {
		t.Fatal(err)
	}
	design := filepath.Join(dir, "d.json")
	if err := os.WriteFile(design, []byte(`{"project":{"name":"x"},"building":{},"profile":"ipc-2021"}`), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, stderr, code := command(t, "review", "--approvals", long, "--max-bytes", "4016", design); code != exitClean {
		t.Errorf("at the limit: exit %d, %s", code, stderr)
	}
	_, stderr, code := command(t, "review", "--approvals", long, "--max-bytes", "4015", design)
	if want := "backpitch: reading " + long + ": the file has 4016 bytes; max-bytes is 4015\n    hint: --max-bytes raises the limit\n"; code != exitNotChecked || stderr != want {
		t.Errorf("beyond the limit: exit %d, %s", code, stderr)
	}
	// A rule or profile of somebody: no file of it is larger than one of a bundle.
	own := filepath.Join(dir, "own", "profiles", "own")
	if err := os.MkdirAll(own, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(own, "profile.json"), make([]byte, 4<<20+1), 0o644); err != nil {
		t.Fatal(err)
	}
	stdout, _, code := command(t, "review", "--policies", filepath.Join(dir, "own"), "--profile", "own", design)
	if want := "has 4194305 bytes; at most 4194304 are read, and no flag raises this limit"; code != exitNotChecked || !strings.Contains(stdout, want) {
		t.Errorf("exit %d, %s", code, stdout)
	}
}
