package policy

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/rego"

	"backpitch/engine/design"
	"backpitch/engine/facts"
	"backpitch/engine/network"
	"backpitch/engine/profile"
)

// Every rule of every profile, as it is evaluated, has the subjects and the
// verdicts that it has as it is written.
func TestQuickRulesAnswerAsWritten(t *testing.T) {
	files := os.DirFS("../../policies")
	list, err := profile.List(files)
	if err != nil {
		t.Fatal(err)
	}
	answers := 0
	for _, s := range list {
		p, err := profile.Load(files, s.ID)
		if err != nil {
			t.Fatal(err)
		}
		prepared, err := Prepare(t.Context(), files, p)
		if err != nil {
			t.Fatal(err)
		}
		written, err := prepared.asWritten()
		if err != nil {
			t.Fatal(err)
		}
		queries := map[string]rego.PreparedEvalQuery{}
		for _, id := range prepared.ids {
			if queries[id], err = prepared.prepare(t.Context(), written, fmt.Sprintf("[%[1]s.subject, %[1]s.verdict]", ruleRef(id))); err != nil {
				t.Fatal(err)
			}
		}
		for _, f := range sampleFacts(t, p) {
			input := valueOf(f)
			run, end, err := prepared.begin(t.Context(), input)
			if err != nil {
				t.Fatal(err)
			}
			for _, id := range prepared.ids {
				row, err := run.row(t.Context(), prepared.modules[id])
				if err != nil {
					t.Fatal(s.ID, id, err)
				}
				asWritten, err := eval(t.Context(), queries[id], input)
				if err != nil {
					t.Fatal(s.ID, id, err)
				}
				subjects, verdicts := asWritten.(*ast.Array).Elem(0).Value, asWritten.(*ast.Array).Elem(1).Value
				if subjects.Compare(row.Elem(0).Value) != 0 {
					t.Errorf("%s, %s: subjects %v, as written %v", s.ID, id, row.Elem(0), subjects)
				}
				merged := ast.NewObject()
				for i := 1; i < row.Len(); i++ {
					row.Elem(i).Value.(*ast.Array).Foreach(func(pair *ast.Term) {
						merged.Insert(pair.Value.(*ast.Array).Elem(0), pair.Value.(*ast.Array).Elem(1))
						answers++
					})
				}
				if verdicts.Compare(merged) != 0 {
					t.Errorf("%s, %s: verdicts %v, as written %v", s.ID, id, merged, verdicts)
				}
				if hasNone(input, prepared.modules[id].groups) && subjects.(ast.Object).Len() > 0 {
					t.Errorf("%s, %s is not asked, and has the subjects %v", s.ID, id, subjects)
				}
			}
			end()
		}
	}
	if answers < 5000 {
		t.Errorf("%d verdicts were compared", answers)
	}
}

// Rules that no shipped rule is like: each must come out as it is written.
func TestQuickKeepsOddRules(t *testing.T) {
	for _, c := range []struct {
		name, rule string
		want       string // subject: outcome, …
	}{
		{"two bodies of subject, one subject in both", `
subject[p.id] := p if { some p in input.drains; not p.lie == "vertical" }
subject[p.id] := p if { some p in input.drains; not p.size == "DN 50" }
verdict[id] := judge.is_true(true) if some id, p in subject`, "a pass, b pass"},
		{"a helper looks at the subjects", `
subject[p.id] := p if some p in input.drains
several if count(subject) > 1
verdict[id] := judge.is_true(several) if some id, p in subject`, "a pass, b pass"},
		{"a helper looks at the verdicts", `
subject[p.id] := p if some p in input.drains
verdict[id] := judge.is_true(true) if { some id, p in subject; p.size == "DN 80" }
passed contains id if verdict[id].outcome == "pass"`, "a pass, b open"},
		{"a variable is named like the subjects", `
subject[p.id] := p if some p in input.drains
verdict[id] := judge.is_true(true) if { some id, p in data.rules.drain.too_flat.subject; some subject in [p]; subject.size == "DN 80" }`, "a pass, b open"},
		{"the same answer of two bodies", `
subject[p.id] := p if some p in input.drains
verdict[id] := judge.is_true(true) if { some id, p in subject; p.lie == "horizontal" }
verdict[id] := judge.is_true(true) if { some id, p in subject; p.size == "DN 80" }`, "a pass, b open"},
	} {
		t.Run(c.name, func(t *testing.T) {
			prepared := mustPrepare(t, map[string]string{"drain/too_flat": oddHead + c.rule})
			list, err := prepared.judge(t.Context(), ast.MustParseTerm(`{"drains": [
				{"id": "a", "lie": "horizontal", "size": "DN 80"}, {"id": "b", "lie": "vertical", "size": "DN 100"}]}`).Value)
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, v := range list {
				got = append(got, v.Subject+" "+string(v.Outcome))
			}
			if strings.Join(got, ", ") != c.want {
				t.Errorf("got %v, want %s", got, c.want)
			}
		})
	}
}

const oddHead = `# METADATA
# title: Odd
# description: A rule that is written oddly.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: drain
#   message: "{subject} is odd"
#   remedy: "Even it."
#   rationale: "None."
#   needs: []
#   tables: []
#   status: stable
package rules.drain.too_flat

import data.lib.judge
`

// sampleFacts are those of the demos and of the sound designs that faults are planted in.
func sampleFacts(t *testing.T, p *profile.Profile) []*facts.Facts {
	t.Helper()
	files, err := filepath.Glob("../../testdata/designs/bases/*.json")
	if err != nil {
		t.Fatal(err)
	}
	demos, err := filepath.Glob("../../testdata/designs/*.json")
	if err != nil {
		t.Fatal(err)
	}
	var out []*facts.Facts
	for _, file := range append(files, demos...) {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		doc, problems := design.Read(file, data, design.Limits{})
		if len(problems) > 0 {
			continue // the file is no design
		}
		n, problems := network.Build(doc)
		f, more := facts.Derive(doc, n, p)
		if len(problems)+len(more) > 0 {
			t.Fatal(file, problems, more)
		}
		out = append(out, f)
	}
	if len(out) < 5 {
		t.Fatalf("%d designs", len(out))
	}
	return out
}
