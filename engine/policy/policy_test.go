package policy

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"backpitch/engine/facts"
	"backpitch/engine/finding"
	"backpitch/engine/profile"
	"backpitch/engine/quantity"
)

// tooFlat is a sound rule; its body is what stands below the METADATA.
const tooFlat = `# METADATA
# title: Too flat
# description: A drain falls enough.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: drain
#   quantity: slope
#   message: "{subject} falls {measured}; {limit} is required ({fact:size})"
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

const profileJSON = `{"id":"p","title":"P","edition":"1","authority":"a","units":"US","verify":"verify","sources":{"b":{"title":"b"}},
 "method":{"load":"fixture_units"},
 "fixtures":{"lavatory":{"kind":"lavatory","load":"1 dfu","trap":"1-1/4 in","basis":"checked","source":"b"}},
 "tables":{
  "drain.min_slope":{"keys":["size"],"value":"slope","basis":"from memory","source":"b","section":"7","rows":{"2 in":"1/4 in/ft","3 in":{"value":"1/8 in/ft","basis":"checked"}}},
  "drain.max_load":{"keys":["size","slope"],"value":"load","basis":"from memory","source":"b","rows":{"2 in | 1/4 in/ft":"21 dfu","2 in | 1/2 in/ft":{"value":"26 dfu","basis":"checked"}}},
  "cleanout.upper":{"value":"flag","is":true,"basis":"checked","source":"b"}},
 "adopts":{"drain/too_flat":{"section":"7","level":"warning","basis":"checked","source":"b"}}}`

// policiesFS is the real helpers, one profile, and rules.
func policiesFS(t testing.TB, rules map[string]string) fstest.MapFS {
	t.Helper()
	fsys := fstest.MapFS{"profiles/p/profile.json": {Data: []byte(profileJSON)}}
	for _, name := range []string{"lib/judge.rego", "lib/table.rego"} {
		data, err := fs.ReadFile(os.DirFS("../../policies"), name)
		if err != nil {
			t.Fatal(err)
		}
		fsys[name] = &fstest.MapFile{Data: data}
	}
	for id, text := range rules {
		fsys["rules/"+id+".rego"] = &fstest.MapFile{Data: []byte(text)}
	}
	return fsys
}

// prepareRules loads and prepares; adopts every rule given.
func prepareRules(t testing.TB, rules map[string]string) (*Prepared, error) {
	t.Helper()
	fsys := policiesFS(t, rules)
	adopts := ""
	for id := range rules {
		if !strings.HasSuffix(id, "_test") && id != "drain/too_flat" {
			adopts += fmt.Sprintf(`, %q: {"section":"1","basis":"checked","source":"b"}`, id)
		}
	}
	text := strings.Replace(profileJSON, `"source":"b"}}}`, `"source":"b"}`+adopts+`}}`, 1)
	fsys["profiles/p/profile.json"] = &fstest.MapFile{Data: []byte(text)}
	p, err := profile.Load(fsys, "p")
	if err != nil {
		t.Fatal(err)
	}
	return Prepare(t.Context(), fsys, p)
}

func mustPrepare(t testing.TB, rules map[string]string) *Prepared {
	t.Helper()
	p, err := prepareRules(t, rules)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func some[T any](v T) *T { return &v }

func drain(id, size, lie string, slope *int64) facts.Drain {
	return facts.Drain{ID: id, Size: size, Lie: lie, Slope: slope}
}

// withFigures fills in what the verdicts rest on.
func withFigures(list []Verdict) []Verdict {
	list = slices.Clone(list)
	for i := range list {
		list[i].Figures = list[i].RestsOn()
	}
	return list
}

func TestJudge(t *testing.T) {
	p := mustPrepare(t, map[string]string{"drain/too_flat": tooFlat})
	f := &facts.Facts{Drains: []facts.Drain{
		drain("steep", "DN 50", "horizontal", some(int64(20833))),
		drain("flat", "DN 50", "horizontal", some(int64(20000))),
		drain("upright", "DN 50", "vertical", nil),
		drain("unknown", "DN 50", "", nil),
		drain("untabled", "DN 65", "horizontal", some(int64(20833))),
		drain("sizeless", "", "horizontal", some(int64(20833))),
	}}
	got, err := p.Judge(t.Context(), f)
	if err != nil {
		t.Fatal(err)
	}
	memory := []Figure{{"drain.min_slope", profile.Cite{Section: "7", Basis: finding.FromMemory, Source: "b", From: "p"}}}
	want := []Verdict{
		{Subject: "flat", Outcome: finding.Fail, Op: "at_least", Measured: int64(20000), Limit: int64(20833), Figures: memory},
		{Subject: "sizeless", Outcome: finding.Open, Missing: []string{"size"}, Figures: memory},
		{Subject: "steep", Outcome: finding.Pass, Op: "at_least", Measured: int64(20833), Limit: int64(20833), Figures: memory},
		{Subject: "unknown", Outcome: finding.Open, Missing: []string{"slope"}, Figures: memory},
		{Subject: "untabled", Outcome: finding.Open, Missing: []string{"table drain.min_slope has no entry for DN 65"}},
	}
	for i := range want {
		want[i].Rule = "drain/too_flat"
	}
	if diff := cmp.Diff(want, withFigures(got), cmpopts.IgnoreUnexported(Verdict{}), cmpopts.EquateEmpty()); diff != "" {
		t.Errorf("Judge (-want +got):\n%s", diff)
	}
	if size, ok := got[0].Fact("size"); !ok || size != "DN 50" {
		t.Errorf("Fact(size) = %v, %v", size, ok)
	}
	if _, ok := got[1].Fact("size"); ok {
		t.Error("a fact that is absent was found")
	}
	if k := p.FactKind("drain/too_flat", "slope"); k != quantity.Slope {
		t.Errorf("FactKind(slope) = %q", k)
	}
	if r, ok := p.Rule("drain/too_flat"); !ok || r.Level != finding.Warning || r.Title != "Too flat" || r.Quantity != quantity.Slope {
		t.Errorf("Rule = %+v", r)
	}
}

// rule makes a rule on drains of its needs, tables and bodies.
func rule(id, needs, tables, body string) string {
	text := strings.Replace(tooFlat, "needs: [slope, size]", "needs: ["+needs+"]", 1)
	text = strings.Replace(text, "tables: [drain.min_slope]", "tables: ["+tables+"]", 1)
	text = strings.Replace(text, "package rules.drain.too_flat", "package rules."+strings.ReplaceAll(id, "/", "."), 1)
	return text[:strings.Index(text, "subject[p.id]")] + body
}

const everyDrain = "subject[p.id] := p if some p in input.drains\n\n"

func TestOutcomesOfOneDrain(t *testing.T) {
	for _, tt := range []struct {
		name, needs, tables, body string
		want                      Verdict
	}{
		{"a pass over a need that is missing", "length", "", `verdict[id] := judge.same(p.dead_end, false) if some id, p in subject`,
			Verdict{Outcome: finding.Open, Op: "same", Measured: false, Limit: false, Missing: []string{"length"}}},
		{"a fail stays one", "length", "", `verdict[id] := judge.is_true(p.dead_end) if some id, p in subject`,
			Verdict{Outcome: finding.Fail, Op: "same", Measured: false, Limit: true}},
		{"not required needs nothing", "length", "", `verdict[id] := judge.not_required("none asked") if some id, p in subject`,
			Verdict{Outcome: finding.Pass, Op: "not_required", Detail: "none asked"}},
		{"a person decides", "", "", `verdict[id] := judge.person_decides("look") if some id, p in subject`,
			Verdict{Outcome: finding.PersonDecides, Op: "person_decides", Detail: "look"}},
		{"words", "", "", `verdict[id] := judge.one_of(p.role, {"stack", "branch"}) if some id, p in subject`,
			Verdict{Outcome: finding.Pass, Op: "one_of", Measured: "branch", Limit: []string{"branch", "stack"}}},
		{"a range", "", "", `verdict[id] := judge.between(p.dn, 40, 80) if some id, p in subject`,
			Verdict{Outcome: finding.Pass, Op: "between", Measured: int64(50), Limit: []int64{40, 80}}},
		{"a fraction is shown rounded", "", "", `verdict[id] := judge.at_most(p.dn / 4, 12) if some id, p in subject`,
			Verdict{Outcome: finding.Fail, Op: "at_most", Measured: int64(13), Limit: int64(12)}},
		{"none of them", "", "", `verdict[id] := judge.none(p.fixture_kinds) if some id, p in subject`,
			Verdict{Outcome: finding.Pass, Op: "none", Measured: []string{}, Limit: []string{}}},
		{"a fact it looks at", "", "", `verdict[id] := judge.at_most(p.cover, 1) if some id, p in subject`,
			Verdict{Outcome: finding.Open, Missing: []string{"cover"}}},
		{"no answer at all", "", "", `verdict[id] := judge.is_true(p.dead_end) if { some id, p in subject; p.dead_end == true }`,
			Verdict{Outcome: finding.Open, Missing: []string{"the rule gives no answer for these facts"}}},
		{"a table the profile lacks", "", "drain.nothing", `verdict[id] := judge.at_most(p.dn, data.profile.drain.nothing) if some id, p in subject`,
			Verdict{Outcome: finding.Open, Missing: []string{"the profile has no table drain.nothing"}}},
		{"an optional table the profile lacks", "", "\"drain.nothing?\"", `verdict[id] := judge.at_most(p.dn, object.get(data.profile, ["drain", "nothing"], 50)) if some id, p in subject`,
			Verdict{Outcome: finding.Pass, Op: "at_most", Measured: int64(50), Limit: int64(50)}},
		{"a step of a table", "", "drain.max_load", `verdict[id] := judge.at_most(p.load, limit) if { some id, p in subject; limit := table.at_or_below(data.profile.drain.max_load[p.size], p.slope) }`,
			Verdict{Outcome: finding.Fail, Op: "at_most", Measured: int64(30000), Limit: int64(26000),
				Figures: []Figure{{"drain.max_load", profile.Cite{Basis: finding.Checked, Source: "b", From: "p"}}}}},
		{"a step the table does not have", "", "drain.max_load", `verdict[id] := judge.at_most(p.load, limit) if { some id, p in subject; limit := table.at_or_below(data.profile.drain.max_load[p.size], p.filling) }`,
			Verdict{Outcome: finding.Open, Missing: []string{"table drain.max_load has no entry for DN 50, slope 0 in/ft"}}},
		{"a column of the fixture table", "", "fixture.trap_min", `verdict[id] := judge.at_least(p.dn, data.profile.fixture.trap_min.lavatory) if some id, p in subject`,
			Verdict{Outcome: finding.Pass, Op: "at_least", Measured: int64(50), Limit: int64(32)}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			text := strings.Replace(rule("x/y", tt.needs, tt.tables, everyDrain+tt.body+"\n"), "import data.lib.judge\n", "import data.lib.judge\nimport data.lib.table\n", 1)
			if !strings.Contains(tt.body, "table.") {
				text = strings.Replace(text, "import data.lib.table\n", "", 1)
			}
			p := mustPrepare(t, map[string]string{"drain/too_flat": tooFlat, "x/y": text})
			d := facts.Drain{ID: "d", Role: "branch", Size: "DN 50", DN: some(int64(50)), Slope: some(int64(50000)), Load: some(int64(30000)),
				Filling: some(int64(0)), FixtureKinds: []string{}}
			got, err := p.Judge(t.Context(), &facts.Facts{Drains: []facts.Drain{d}})
			if err != nil {
				t.Fatal(err)
			}
			tt.want.Rule, tt.want.Subject = "x/y", "d"
			if diff := cmp.Diff(tt.want, withFigures(got)[1], cmpopts.IgnoreUnexported(Verdict{}), cmpopts.EquateEmpty()); diff != "" {
				t.Errorf("verdict (-want +got):\n%s", diff)
			}
		})
	}
}

// The order of verdicts is by rule and subject, whatever the order of facts.
func TestJudgeIsSorted(t *testing.T) {
	always := everyDrain + `verdict[id] := judge.person_decides("look") if some id, _ in subject` + "\n"
	p := mustPrepare(t, map[string]string{"drain/too_flat": tooFlat, "a/b": rule("a/b", "", "", always), "z/z": rule("z/z", "", "", always)})
	got, err := p.Judge(t.Context(), &facts.Facts{Drains: []facts.Drain{{ID: "b"}, {ID: "c"}, {ID: "a"}}})
	if err != nil {
		t.Fatal(err)
	}
	order := ""
	for _, v := range got {
		order += v.Rule + ":" + v.Subject + " "
	}
	if want := "a/b:a a/b:b a/b:c drain/too_flat:a drain/too_flat:b drain/too_flat:c z/z:a z/z:b z/z:c "; order != want {
		t.Errorf("order is %s, want %s", order, want)
	}
}

// A rule that is not adopted is not even parsed.
func TestOnlyAdoptedRulesAreRead(t *testing.T) {
	fsys := policiesFS(t, map[string]string{"drain/too_flat": tooFlat, "x/broken": "package"})
	p, err := profile.Load(fsys, "p")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Prepare(t.Context(), fsys, p); err != nil {
		t.Errorf("Prepare = %v", err)
	}
	if _, err := Catalogue(fsys); err == nil {
		t.Error("the catalogue passed over a broken rule")
	}
}

func TestDeadlineStopsAnEndlessRule(t *testing.T) {
	endless := everyDrain + `verdict[id] := judge.same(count(pairs), 0) if some id, _ in subject

pairs contains [a, b, c, d] if {
	some a in input.drains
	some b in input.drains
	some c in input.drains
	some d in input.drains
	a.id != b.id
}
`
	p := mustPrepare(t, map[string]string{"drain/too_flat": tooFlat, "x/y": rule("x/y", "", "", endless)})
	f := &facts.Facts{}
	for i := range 200 {
		f.Drains = append(f.Drains, facts.Drain{ID: fmt.Sprint("d", i)})
	}
	ctx, cancel := context.WithTimeout(t.Context(), 50*time.Millisecond)
	defer cancel()
	start := time.Now()
	_, err := p.Judge(ctx, f)
	if !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("Judge = %v, want the deadline", err)
	}
	if e, ok := errors.AsType[*Error](err); !ok || e.Hint == "" || !strings.Contains(e.Message, "stopped") {
		t.Errorf("error is %#v", err)
	}
	if took := time.Since(start); took > 5*time.Second {
		t.Errorf("Judge stopped after %v", took)
	}
}

// For the race detector: one Prepared, many goroutines, the same verdicts.
func TestJudgeFromManyGoroutines(t *testing.T) {
	p := mustPrepare(t, map[string]string{"drain/too_flat": tooFlat})
	f := &facts.Facts{}
	for i := range 50 {
		f.Drains = append(f.Drains, drain(fmt.Sprint("d", i), []string{"DN 50", "DN 80", "DN 65", ""}[i%4], "horizontal", some(int64(1000*i))))
	}
	want, err := p.Judge(t.Context(), f)
	if err != nil {
		t.Fatal(err)
	}
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			for range 10 {
				got, err := p.Judge(context.Background(), f)
				if diff := cmp.Diff(want, got, cmpopts.IgnoreUnexported(Verdict{})); err != nil || diff != "" {
					t.Errorf("Judge = %v, (-want +got):\n%s", err, diff)
					return
				}
			}
		})
	}
	wg.Wait()
}
