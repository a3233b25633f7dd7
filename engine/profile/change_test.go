package profile

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
)

const changing = `{"id":"p","title":"P","edition":"1","authority":"a","units":"US","verify":"verify","sources":{"b":{"title":"the book"}},
 "method":{"load":"fixture_units","k":{"public":0.7}},
 "fixtures":{"lavatory":{"kind":"lavatory","load":"1 dfu","trap":"1-1/4 in","basis":"checked","source":"b"}},
 "bathroom_group":{"basis":"checked","source":"b","rows":{"any":{"load":"5 dfu"}}},
 "tables":{
  "drain.min_slope":{"keys":["size"],"value":"slope","section":"7","basis":"from memory","source":"b","rows":{"2 in":"1/4 in/ft","3 in":"1/8 in/ft"}},
  "steps.of":{"keys":["length"],"value":"count","basis":"checked","source":"b","rows":{"5 ft":"2"}},
  "pump.kinds":{"value":"words","is":["grinder","effluent"],"basis":"checked","source":"b"},
  "vent.joins":{"value":"flag","is":true,"basis":"checked","source":"b"},
  "terminal.size":{"value":"size","is":"3 in","basis":"checked","source":"b"}},
 "adopts":{"drain/too_flat":{"section":"704.1","level":"warning","basis":"checked","source":"b"}}}`

const local = `{"id":"town","title":"T","edition":"1","authority":"t","amends":"p","verify":"verify","sources":{"law":{"title":"the law"}},
 "tables":{"drain.min_slope":{"basis":"checked","source":"law","section":"L7","rows":{"2 in":"1/2 in/ft","3 in":null}}}}`

func changingFS() fstest.MapFS {
	return fstest.MapFS{
		"profiles/p/profile.json":    {Data: []byte(changing)},
		"profiles/town/profile.json": {Data: []byte(local)},
		"rules/drain/too_flat.rego":  {Data: []byte("package x")},
	}
}

func TestChangesAreSingleAndComplete(t *testing.T) {
	p, err := Load(changingFS(), "p")
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, c := range p.Changes() {
		got = append(got, c.String())
	}
	want := []string{
		"drain.min_slope: 2 in: 1/4 in/ft becomes 0.234 in/ft (19531 part per million)",
		"drain.min_slope: 2 in: 1/4 in/ft becomes 0.266 in/ft (22135 part per million)",
		"drain.min_slope: 2 in is dropped",
		"drain.min_slope: 3 in: 1/8 in/ft becomes 0.109 in/ft (9115 part per million)",
		"drain.min_slope: 3 in: 1/8 in/ft becomes 0.141 in/ft (11719 part per million)",
		"drain.min_slope: 3 in is dropped",
		"pump.kinds: grinder is dropped", "pump.kinds: effluent is dropped",
		"steps.of: 5 ft: 2 becomes 1", "steps.of: 5 ft: 2 becomes 3",
		"steps.of: key 5 ft: 5 ft becomes 5 ft (1523603 micrometre)", "steps.of: key 5 ft: 5 ft becomes 5 ft (1524397 micrometre)",
		"terminal.size: 3 in becomes DN 75", "terminal.size: 3 in becomes DN 90",
		"vent.joins: yes becomes no",
		"fixture.load: lavatory: 1 dfu becomes 0.5 dfu", "fixture.load: lavatory: 1 dfu becomes 1.5 dfu",
		"fixture.trap_min: lavatory: 1-1/4 in becomes DN 30", "fixture.trap_min: lavatory: 1-1/4 in becomes 1-1/2 in",
		"bathroom_group: any: 5 dfu becomes 4.5 dfu", "bathroom_group: any: 5 dfu becomes 5.5 dfu",
		"method.k: public: 0.7 becomes 0.6", "method.k: public: 0.7 becomes 0.8",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("Changes (-want +got):\n%s", diff)
	}
}

// A change changes what rules read, or what is no table, and nothing else; the
// profile itself stays as it is.
func TestChangedIsACopy(t *testing.T) {
	p, err := Load(changingFS(), "p")
	if err != nil {
		t.Fatal(err)
	}
	before := fmt.Sprint(p.Data(), p.Groups, p.Method.K, p.Fixtures[0].Text(p))
	seen := map[string]bool{before: true}
	for _, c := range p.Changes() {
		q := p.Changed(c)
		after := fmt.Sprint(q.Data(), q.Groups, q.Method.K, q.Fixtures[0].Text(q))
		if seen[after] {
			t.Errorf("%s: this makes no difference of its own", c)
		}
		seen[after] = true
	}
	if now := fmt.Sprint(p.Data(), p.Groups, p.Method.K, p.Fixtures[0].Text(p)); now != before {
		t.Errorf("the profile itself changed:\n%s\n%s", before, now)
	}
	if e, ok := p.Changed(Change{Table: "drain.min_slope", Row: 0, Key: -1, To: int64(5)}).Table("drain.min_slope").Lookup(ByWord("DN 50")); !ok || e.Value != int64(5) {
		t.Errorf("the lookup finds %v, %v", e, ok)
	}
}

// The allowance is that of lib/judge.rego: one part in ten thousand, ten units
// at most.
func TestBeyondIsWhatJudgeNoLongerForgives(t *testing.T) {
	for limit, want := range map[int64]int64{0: 1, 50: 1, 9999: 1, 10000: 2, 20833: 3, 1524000: 11, 99999999: 11, -20833: 3} {
		if got := Beyond(limit); got != want {
			t.Errorf("Beyond(%d) = %d, want %d", limit, got, want)
		}
	}
}

func TestAt(t *testing.T) {
	p, err := Load(changingFS(), "town")
	if err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]string{
		"drain.min_slope":      "drain.min_slope, 2 in = 1/2 in/ft (town L7)",
		"drain.min_slope.2 in": "drain.min_slope, 2 in = 1/2 in/ft (town L7)",
		"drain.min_slope.3 in": "", // dropped
		"vent.joins":           "vent.joins = yes (p )",
		"pump.kinds":           "pump.kinds = grinder, effluent (p )",
		"steps.of[5 ft]":       "steps.of, 5 ft = 2 (p )",
		"drain/too_flat":       "drain/too_flat = adopted as warning (p 704.1)",
		"fixtures.lavatory":    "fixtures.lavatory = lavatory: load 1 dfu, trap 1-1/4 in (p )",
		"bathroom_group.any":   "bathroom_group.any = any flush: load 5 dfu (p )",
		"sources.law":          "sources.law = the law (town )",
		"units":                "units = US (town )",
		"drain.min":            "",
		"nothing":              "",
	} {
		var got []string
		for _, s := range p.At(path) {
			got = append(got, fmt.Sprintf("%s = %s (%s %s)", s.Path, s.Value, s.From, s.Section))
		}
		if strings.Join(got, "; ") != want {
			t.Errorf("At(%q) = %q, want %q", path, got, want)
		}
	}
	for _, path := range p.Paths() {
		if len(p.At(path)) == 0 && path != "method.flow_curve" {
			t.Errorf("Paths has %q, and At says nothing of it", path)
		}
	}
}

func TestCompare(t *testing.T) {
	p, err := Load(changingFS(), "p")
	if err != nil {
		t.Fatal(err)
	}
	q, err := Load(changingFS(), "town")
	if err != nil {
		t.Fatal(err)
	}
	c := Compare([]*Profile{p, q}, map[string]Rule{"drain/too_flat": {ID: "drain/too_flat", Title: "Flat", Level: "error", Tables: []string{"drain.min_slope"}}})
	want := Comparison{Profiles: []string{"p", "town"},
		Rules: []ComparedRule{{Rule: "drain/too_flat", Title: "Flat", Differs: true, Cells: []RuleCell{
			{Adopted: true, Level: "warning", Section: "704.1", Basis: "checked", Limits: []string{"drain.min_slope (2 rows)"}},
			{Adopted: true, Level: "warning", Section: "704.1", Basis: "checked", Limits: []string{"2 in: 1/2 in/ft"}}}}},
		Tables: []ComparedTable{{Table: "drain.min_slope", Rows: []ComparedRow{
			{Key: "2 in", Cells: []RowCell{{"1/4 in/ft", "7", "from memory"}, {"1/2 in/ft", "L7", "checked"}}},
			{Key: "3 in", Cells: []RowCell{{"1/8 in/ft", "7", "from memory"}, {}}}}}}}
	if diff := cmp.Diff(want, c, cmp.FilterPath(func(p cmp.Path) bool { return p.Last().String() == ".parts" }, cmp.Ignore())); diff != "" {
		t.Errorf("Compare (-want +got):\n%s", diff)
	}
	if c := Compare([]*Profile{p, p}, nil); slices.ContainsFunc(c.Rules, func(r ComparedRule) bool { return r.Differs }) || len(c.Tables) > 0 {
		t.Errorf("a profile differs from itself: %+v", c)
	}
}

// Tables of one family that differ only in how they are written are alike.
func TestCompareShipped(t *testing.T) {
	fsys := os.DirFS("../../policies")
	p, err := Load(fsys, "ipc-2021")
	if err != nil {
		t.Fatal(err)
	}
	q, err := Load(fsys, "chicago")
	if err != nil {
		t.Fatal(err)
	}
	c := Compare([]*Profile{p, q}, nil)
	i := slices.IndexFunc(c.Tables, func(t ComparedTable) bool { return t.Table == "basin.min_depth" })
	if i < 0 {
		t.Fatal("basin.min_depth does not differ")
	}
	// 24 in: ICC plumbing code 712.3.2, from memory. 30 in: Municipal Code of
	// Chicago 18-29-712.3.2.
	if got := c.Tables[i].Rows[0]; got.Cells[0].Value != "24 in" || got.Cells[1].Value != "30 in" {
		t.Errorf("basin.min_depth: %+v", got)
	}
}
