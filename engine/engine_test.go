package engine_test

import (
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"backpitch/engine"
	"backpitch/engine/finding"
	"backpitch/policies"
)

func demo(t testing.TB, name string) engine.Submission {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "testdata", "designs", name))
	if err != nil {
		t.Fatal(err)
	}
	return engine.Submission{Name: name, Data: data}
}

func shipped() *engine.Engine { return engine.New(engine.Options{Policies: policies.FS()}) }

func TestReviewUsesTheDesignsOwnProfile(t *testing.T) {
	eng := shipped()
	own := eng.Review(t.Context(), demo(t, "pottery-studio.json"), "")
	if own.Profile.ID != "ipc-2021" || own.Failure != "" || len(own.Problems) > 0 {
		t.Errorf("judged under %q, failure %q, problems %v", own.Profile.ID, own.Failure, own.Problems)
	}
	other := eng.Review(t.Context(), demo(t, "pottery-studio.json"), "chicago")
	if other.Profile.ID != "chicago" {
		t.Errorf("--profile chicago judged under %q", other.Profile.ID)
	}
}

func TestReviewWithoutAProfileSaysSo(t *testing.T) {
	s := engine.Submission{Name: "x.json", Data: []byte(`{"project":{"name":"x"},"building":{}}`)}
	r := shipped().Review(t.Context(), s, "")
	if !strings.Contains(r.Failure, "no profile") || r.Hint == "" || len(r.Findings) > 0 {
		t.Errorf("failure %q, hint %q, %d findings", r.Failure, r.Hint, len(r.Findings))
	}
}

func TestBrokenRuleIsTheReviewsFailure(t *testing.T) {
	twoAnswers := `# METADATA
# title: Two answers
# description: A rule that contradicts itself.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: drain
#   message: "{subject} is wrong"
#   remedy: "None."
#   rationale: "It must be found out."
#   needs: []
#   tables: []
#   status: stable
package rules.drain.two_answers

import data.lib.judge

subject[p.id] := p if some p in input.drains

verdict[id] := judge.same("a", "a") if some id, _ in subject

verdict[id] := judge.same("a", "b") if some id, _ in subject
`
	profile := `{"id":"house","title":"House","edition":"1","authority":"house","amends":"ipc-2021","verify":"verify with local authority",
	"sources":{"house":{"title":"House rules","read":"all"}},
	"adopts":{"drain/two_answers":{"section":"1","basis":"checked","source":"house"}}}`
	fsys := merged(t, map[string]string{
		"profiles/house/profile.json":                 profile,
		"profiles/house/rules/drain/two_answers.rego": twoAnswers,
	})
	r := engine.New(engine.Options{Policies: fsys}).Review(t.Context(), demo(t, "pottery-studio.json"), "house")
	if !strings.Contains(r.Failure, "two_answers") || len(r.Findings) > 0 || r.Counts.Pass > 0 {
		t.Errorf("a rule with two verdicts: failure %q, %d findings", r.Failure, len(r.Findings))
	}
}

// merged is the shipped policies with further files.
func merged(t *testing.T, files map[string]string) fs.FS {
	t.Helper()
	all := fstest.MapFS{}
	err := fs.WalkDir(policies.FS(), ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(policies.FS(), p)
		all[p] = &fstest.MapFile{Data: data}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range files {
		all[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return all
}

func TestReviewsAtOnceAreTheSame(t *testing.T) {
	eng := shipped()
	want := eng.Review(t.Context(), demo(t, "pottery-studio-flawed.json"), "")
	got := make([]finding.Review, 8)
	var wg sync.WaitGroup
	for i := range got {
		wg.Go(func() { got[i] = eng.Review(context.Background(), demo(t, "pottery-studio-flawed.json"), "") })
	}
	wg.Wait()
	for i := range got {
		if diff := cmp.Diff(want, got[i]); diff != "" {
			t.Fatalf("review %d differs:\n%s", i, diff)
		}
	}
}

func TestFingerprintsSurviveMovedLinesAndNames(t *testing.T) {
	eng := shipped()
	s := demo(t, "pottery-studio-flawed.json")
	before := eng.Review(t.Context(), s, "")
	moved := engine.Submission{Name: "renamed.json", Data: append([]byte("\n\n\n"), s.Data...)}
	after := eng.Review(t.Context(), moved, "")
	if len(before.Findings) != len(after.Findings) {
		t.Fatalf("%d findings, then %d", len(before.Findings), len(after.Findings))
	}
	for i, f := range before.Findings {
		g := after.Findings[i]
		if f.Fingerprint != g.Fingerprint || g.Place.Line != f.Place.Line+3 {
			t.Errorf("%s %s: fingerprint %s line %d, then %s line %d", f.Rule, f.Subject, f.Fingerprint, f.Place.Line, g.Fingerprint, g.Place.Line)
		}
	}
}

func TestAnInterruptedReviewGivesNoFindings(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	eng := shipped()
	if _, err := eng.Open(ctx, "ipc-2021"); err != nil {
		t.Fatal(err)
	}
	cancel()
	r := eng.Review(ctx, demo(t, "pottery-studio.json"), "")
	if r.Failure == "" || len(r.Findings) > 0 {
		t.Errorf("failure %q with %d findings", r.Failure, len(r.Findings))
	}
}

func BenchmarkReview(b *testing.B) {
	eng := shipped()
	s := demo(b, "pottery-studio.json")
	if _, err := eng.Open(b.Context(), "ipc-2021"); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if r := eng.Review(b.Context(), s, ""); r.Failure != "" {
			b.Fatal(r.Failure)
		}
	}
}
