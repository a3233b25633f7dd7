package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"backpitch/engine"
	"backpitch/engine/design"
	"backpitch/engine/finding"
	"backpitch/engine/report"
	"backpitch/policies"
	"backpitch/schema"
	"backpitch/testdata/designs/random"
)

// streamBytes is the limit of a line in FuzzStream: small, so that lines go over.
const streamBytes = 20_000

// FuzzStream sends bytes through review --stream: a review a line comes out for
// each line that is not blank, in order, with that line's number, whole by the
// schema of findings, the same from one worker and from three; the exit code is
// that of the worst line.
func FuzzStream(f *testing.F) {
	var designs [][]byte
	for _, file := range []string{"pottery-studio.json", "pottery-studio-flawed.json"} {
		data, err := os.ReadFile(filepath.Join(root, "testdata", "designs", file))
		if err != nil {
			f.Fatal(err)
		}
		designs = append(designs, oneLine(f, data))
	}
	small, other := oneLine(f, random.Design(1, 3)), oneLine(f, random.Design(2, 6))
	for _, lines := range [][][]byte{
		{designs[0]}, {designs[1]}, {small, nil, []byte("{bad"), other}, {nil, nil}, {[]byte(" \t\r"), small},
		{[]byte("\xef\xbb\xbf{}"), []byte("[]"), []byte("null")}, {bytes.Repeat([]byte("["), 2*streamBytes), small},
		{[]byte("{}\r"), []byte("{}")}, {[]byte("\v\f\u0085\u00a0"), []byte("\x00")},
		{bytes.Repeat([]byte(" "), streamBytes), bytes.Repeat([]byte(" "), streamBytes+1)},
	} {
		f.Add(bytes.Join(lines, []byte("\n")))
		f.Add(append(bytes.Join(lines, []byte("\n")), '\n'))
	}
	s, err := schema.Compile("findings")
	if err != nil {
		f.Fatal(err)
	}
	whole := wholeReportOf(f)
	// One engine for all inputs; what comes before stream is flags.
	limits := design.DefaultLimits()
	limits.Bytes = streamBytes
	eng := engine.New(engine.Options{Policies: policies.FS(), Limits: limits})
	review := func(t *testing.T, data []byte, jobs int) (out string, code int) {
		format, err := report.For("ndjson")
		if err != nil {
			t.Fatal(err)
		}
		fails, err := parseThreshold("error")
		if err != nil {
			t.Fatal(err)
		}
		var stdout bytes.Buffer
		with := &settings{formats: []report.Format{format}, threshold: fails, jobs: jobs, stdout: &stdout}
		code, err = with.stream(t.Context(), &reviewer{eng: eng, profile: "ipc-2021", stdin: bytes.NewReader(data), limit: time.Minute}, stdinName)
		if err != nil {
			t.Fatal(err)
		}
		return stdout.String(), code
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		out, code := review(t, data, 1)
		if again, code2 := review(t, data, 3); again != out || code2 != code {
			t.Errorf("one worker gives exit %d and\n%s\nthree give exit %d and\n%s", code, out, code2, again)
		}
		wanted := 0
		var numbers []int
		for i, line := range strings.Split(string(data), "\n") {
			line = strings.TrimRight(line, "\r")
			if len(line) > streamBytes || strings.TrimSpace(line) != "" {
				numbers = append(numbers, i+1)
			}
		}
		var reviews []any
		for line := range strings.Lines(out) {
			var r struct {
				Line     int               `json:"line"`
				File     string            `json:"file"`
				Failure  string            `json:"failure"`
				Problems []finding.Problem `json:"problems"`
				Counts   finding.Counts    `json:"counts"`
			}
			var plain any
			if err := json.Unmarshal([]byte(line), &r); err != nil {
				t.Fatalf("%v in %q", err, line)
			}
			if err := json.Unmarshal([]byte(line), &plain); err != nil {
				t.Fatal(err)
			}
			if len(reviews) >= len(numbers) || r.Line != numbers[len(reviews)] {
				t.Fatalf("review %d is of line %d; lines that are not blank: %v", len(reviews)+1, r.Line, numbers)
			}
			reviews = append(reviews, plain)
			if r.File != "-" || r.Failure != "" {
				t.Errorf("line %d: file %q, failure %q", r.Line, r.File, r.Failure)
			}
			for _, p := range r.Problems {
				if p.Message == "" || p.Place.Line != r.Line && p.Code != "max_problems" {
					t.Errorf("line %d: problem %+v", r.Line, p)
				}
			}
			switch {
			case len(r.Problems) > 0:
				wanted = max(wanted, exitNotChecked)
			case r.Counts.Errors > 0:
				wanted = max(wanted, exitFindings)
			}
		}
		if len(reviews) != len(numbers) {
			t.Errorf("%d reviews of %d lines that are not blank", len(reviews), len(numbers))
		}
		if code != wanted {
			t.Errorf("exit %d, the worst line says %d", code, wanted)
		}
		if len(reviews) > 0 {
			whole["reviews"] = reviews // a line is a review
			if err := s.Validate(whole); err != nil {
				t.Errorf("the reviews break their schema: %#v", err)
			}
		}
	})
}

// wholeReportOf is the JSON report of a run.
func wholeReportOf(f *testing.F) map[string]any {
	var stdout, stderr bytes.Buffer
	if code := run(context.Background(), []string{"backpitch", "review", "--format", "json", filepath.Join(root, "testdata", "designs", "pottery-studio.json")},
		strings.NewReader(""), &stdout, &stderr); code != exitClean {
		f.Fatalf("exit %d, %s", code, &stderr)
	}
	var whole map[string]any
	if err := json.Unmarshal(stdout.Bytes(), &whole); err != nil {
		f.Fatal(err)
	}
	return whole
}

// oneLine prints a document without a line end.
func oneLine(f *testing.F, data []byte) []byte {
	var out bytes.Buffer
	if err := json.Compact(&out, data); err != nil {
		f.Fatal(err)
	}
	return out.Bytes()
}
