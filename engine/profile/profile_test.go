package profile

import (
	"errors"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"backpitch/engine/finding"
	"backpitch/engine/quantity"
)

// An invented code and an invented town that amends it.
const modelJSON = `{
  "id": "model", "title": "Model", "edition": "1", "authority": "Someone", "units": "US",
  "verify": "verify with local authority",
  "sources": {"book": {"title": "The book", "read": "nothing"}},
  "method": {"load": "fixture_units", "flow_curve": "flow.curve"},
  "fixtures": {
    "wc-low": {"kind": "water_closet", "use": "private", "flush_at_most": "1.6 gal", "load": "3 dfu", "basis": "from memory", "source": "book"},
    "wc": {"kind": "water_closet", "load": "4 dfu", "basis": "from memory", "source": "book"},
    "lavatory": {"kind": "lavatory", "load": "1 dfu", "trap": "1-1/4 in", "basis": "checked", "source": "book"}
  },
  "bathroom_group": {"rows": [{"flush_at_most": "1.6 gal", "load": "5 dfu"}, {"load": "6 dfu"}], "basis": "from memory", "source": "book"},
  "tables": {
    "drain.min_slope": {"keys": ["size"], "value": "slope", "section": "T1", "basis": "from memory", "source": "book",
      "rows": {"2 in": "1/4 in/ft", "3 in": {"value": "1/8 in/ft", "basis": "checked"}, "4 in": {"value": "1/8 in/ft", "note": "seen"}}},
    "building_drain.max_load": {"keys": ["size", "slope"], "value": "load", "basis": "from memory", "source": "book",
      "rows": [{"key": ["3 in", "1/4 in/ft"], "value": "42 dfu"}, {"key": ["3 in", "1/8 in/ft"], "value": "36 dfu"}]},
    "basin.min_diameter": {"value": "length", "is": "18 in", "basis": "checked", "source": "book", "section": "9"},
    "valve.accepted": {"value": "flag", "is": false, "basis": "common practice", "source": "book"},
    "discharge.fittings": {"value": "words", "is": ["wye", "combination_wye"], "basis": "checked", "source": "book"},
    "pipe.many": {"value": "number", "is": 3, "basis": "checked", "source": "book"},
    "vent.longest": {"keys": ["size", "load"], "value": "length", "basis": "checked", "source": "book",
      "rows": {"2 in | 20 dfu": "no limit", "2 in|50 dfu": "60 ft", "2 in | 90 dfu": "not permitted"}},
    "flow.curve": {"keys": ["load"], "value": "flow", "basis": "checked", "source": "book", "rows": {"10 dfu": "20 gpm", "5 dfu": "10 gpm"}}
  },
  "adopts": {"drain/too_flat": {"section": "7", "basis": "from memory", "source": "book"},
             "drain/too_steep": {"section": "8", "level": "note", "basis": "checked", "source": "book"}}
}`

const townJSON = `{
  "id": "town", "title": "Town", "edition": "2", "authority": "The town", "amends": "model",
  "verify": "verify with the town",
  "sources": {"law": {"title": "The law"}},
  "fixtures": {"wc-heavy": {"kind": "water_closet", "use": "heavy", "load": "8 dfu", "basis": "checked", "source": "law"}},
  "tables": {
    "drain.min_slope": {"section": "T-1", "basis": "checked", "source": "law", "rows": {"2 in": "1/2 in/ft", "4 in": null}},
    "basin.min_diameter": {"section": "T-9", "basis": "checked", "source": "law"},
    "valve.accepted": null
  },
  "adopts": {"drain/too_steep": null, "town/odd": {"section": "1", "basis": "checked", "source": "law"}}
}`

func policiesFS(files map[string]string) fstest.MapFS {
	fsys := fstest.MapFS{
		"rules/drain/too_flat.rego":           {},
		"rules/drain/too_steep.rego":          {},
		"rules/drain/too_steep_test.rego":     {},
		"profiles/town/rules/town/odd.rego":   {},
		"profiles/README.md":                  {},
		"profiles/model/profile.json":         {Data: []byte(modelJSON)},
		"profiles/town/profile.json":          {Data: []byte(townJSON)},
		"profiles/elsewhere/rules/x/not.rego": {},
	}
	for name, text := range files {
		fsys[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return fsys
}

func mustLoad(t *testing.T, id string) *Profile {
	t.Helper()
	p, err := Load(policiesFS(nil), id)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// 1/4 in/ft is 1 in 48, 20833 parts per million; 18 in is 457200 µm, by
// definition of the inch (NIST SP 811, appendix B).
func TestDataIsWhatRulesRead(t *testing.T) {
	want := map[string]any{
		"id": "model",
		"drain": map[string]any{"min_slope": map[string]any{
			"DN 50": int64(20833), "DN 80": int64(10417), "DN 100": int64(10417)}},
		"building_drain": map[string]any{"max_load": map[string]any{"DN 80": []any{
			map[string]any{"at": int64(10417), "value": int64(36000)},
			map[string]any{"at": int64(20833), "value": int64(42000)}}}},
		"basin":     map[string]any{"min_diameter": int64(457200)},
		"valve":     map[string]any{"accepted": false},
		"discharge": map[string]any{"fittings": []any{"wye", "combination_wye"}},
		"pipe":      map[string]any{"many": int64(3)},
		"vent": map[string]any{"longest": map[string]any{"DN 50": []any{
			map[string]any{"at": int64(20000), "value": quantity.Unlimited},
			map[string]any{"at": int64(50000), "value": int64(18288000)},
			map[string]any{"at": int64(90000), "value": int64(0)}}}},
		"flow": map[string]any{"curve": []any{
			map[string]any{"at": int64(5000), "value": int64(631)},
			map[string]any{"at": int64(10000), "value": int64(1262)}}},
		"fixture": map[string]any{
			"load":     map[string]any{"wc-low": int64(3000), "wc": int64(4000), "lavatory": int64(1000)},
			"trap_min": map[string]any{"lavatory": int64(32)}},
	}
	if diff := cmp.Diff(want, mustLoad(t, "model").Data()); diff != "" {
		t.Errorf("Data (-want +got):\n%s", diff)
	}
}

func TestAmendmentKeepsOrigins(t *testing.T) {
	p := mustLoad(t, "town")
	if got := p.Chain; !cmp.Equal(got, []string{"town", "model"}) || p.Units != quantity.US || p.Verify != "verify with the town" {
		t.Errorf("chain %v, units %v, verify %q", got, p.Units, p.Verify)
	}
	cites := map[string]Cite{}
	for _, e := range p.Table("drain.min_slope").Rows() {
		cites[e.Key[0]] = e.Cite
	}
	want := map[string]Cite{
		"2 in": {Section: "T-1", Basis: finding.Checked, Source: "law", From: "town"},
		"3 in": {Section: "T1", Basis: finding.Checked, Source: "book", From: "model"},
	}
	if diff := cmp.Diff(want, cites); diff != "" {
		t.Errorf("cites (-want +got):\n%s", diff)
	}
	basin, _ := p.Table("basin.min_diameter").Lookup()
	if n, _ := basin.Int(); n != 457200 || basin.Cite != (Cite{Section: "T-9", Basis: finding.Checked, Source: "law", From: "town"}) {
		t.Errorf("a figure cited anew is %v, %+v", n, basin.Cite)
	}
	if p.Table("valve.accepted") != nil {
		t.Error("a dropped table is still there")
	}
	if got := p.Rules(); !cmp.Equal(got, []string{"drain/too_flat", "town/odd"}) {
		t.Errorf("adopted rules are %v", got)
	}
	if p.Adopts["drain/too_flat"].From != "model" || p.Adopts["town/odd"].From != "town" {
		t.Errorf("adoptions come from %+v", p.Adopts)
	}
	if p.Fixtures[0].Class != "wc-heavy" || p.Fixtures[1].Class != "wc-low" {
		t.Errorf("a local fixture row is not tried first: %s, %s", p.Fixtures[0].Class, p.Fixtures[1].Class)
	}
}

func TestFiguresCountByBasis(t *testing.T) {
	// Counted by hand: 3 fixtures, 2 groups, 3+2+1+1+1+1+3+2 table figures, 2
	// adoptions.
	want := finding.FigureCounts{Checked: 1 + 1 + 1 + 1 + 1 + 3 + 2 + 1, FromMemory: 2 + 2 + 2 + 2 + 1, CommonPractice: 1}
	s := mustLoad(t, "model").Summary()
	if s.Figures != want || s.Figures.Total() != 21 || s.Rules != 2 {
		t.Errorf("Summary = %+v, want %+v", s, want)
	}
}

func TestLookups(t *testing.T) {
	p := mustLoad(t, "model")
	for _, tt := range []struct {
		name  string
		table string
		keys  []Key
		want  any
	}{
		{"a size", "drain.min_slope", []Key{ByWord("DN 50")}, int64(20833)},
		{"a size that is not there", "drain.min_slope", []Key{ByWord("DN 65")}, nil},
		{"on the step", "building_drain.max_load", []Key{ByWord("DN 80"), AtOrBelow(20833)}, int64(42000)},
		{"rounded to under the step", "building_drain.max_load", []Key{ByWord("DN 80"), AtOrBelow(20831)}, int64(42000)},
		{"between steps", "building_drain.max_load", []Key{ByWord("DN 80"), AtOrBelow(20830)}, int64(36000)},
		{"under all steps", "building_drain.max_load", []Key{ByWord("DN 80"), AtOrBelow(9000)}, nil},
		{"least that holds", "vent.longest", []Key{ByWord("DN 50"), AtOrAbove(20001)}, quantity.Unlimited},
		{"next that holds", "vent.longest", []Key{ByWord("DN 50"), AtOrAbove(21000)}, int64(18288000)},
		{"over all steps", "vent.longest", []Key{ByWord("DN 50"), AtOrAbove(99000)}, nil},
		{"too few keys", "vent.longest", []Key{ByWord("DN 50")}, nil},
		{"a word for a number", "vent.longest", []Key{ByWord("DN 50"), ByWord("20")}, nil},
		{"a number for a word", "drain.min_slope", []Key{AtOrAbove(50)}, nil},
		{"one value", "basin.min_diameter", nil, int64(457200)},
		{"no such table", "basin.nothing", nil, nil},
	} {
		e, ok := p.Table(tt.table).Lookup(tt.keys...)
		if ok != (tt.want != nil) || e.Value != tt.want {
			t.Errorf("%s: Lookup = %v, %v, want %v", tt.name, e.Value, ok, tt.want)
		}
	}
	if e, ok := p.MinSlope("DN 80"); !ok || e.Basis != finding.Checked || e.Section != "T1" || e.Source != "book" {
		t.Errorf("MinSlope cites %+v", e.Cite)
	}
	curve := p.FlowCurve()
	if len(curve) != 2 || curve[0].Load != 5000 || curve[0].Flow != 631 || curve[1].Load != 10000 {
		t.Errorf("FlowCurve = %+v", curve)
	}
}

func some[T any](v T) *T { return &v }

func TestFirstFixtureThatFits(t *testing.T) {
	fixture := `"fixtures": {
	  "low": {"kind": "water_closet", "use": "private", "flush_at_most": "1.6 gal", "load": "3 dfu", "basis": "checked", "source": "b"},
	  "tank": {"kind": "water_closet", "use": "private", "flush_type": "tank", "load": "4 dfu", "basis": "checked", "source": "b"},
	  "any": {"kind": "water_closet", "load": "6 dfu", "basis": "checked", "source": "b"},
	  "emergency": {"kind": "floor_drain", "emergency": true, "load": "0 dfu", "basis": "checked", "source": "b"},
	  "small": {"kind": "floor_drain", "trap_at_most": "2 in", "load": "2 dfu", "basis": "checked", "source": "b"},
	  "large": {"kind": "floor_drain", "trap_at_most": "3 in", "load": "3 dfu", "basis": "checked", "source": "b"},
	  "shower": {"kind": "shower", "flow_at_most": "5.7 gpm", "assume": true, "load": "2 dfu", "basis": "checked", "source": "b"}}`
	fsys := policiesFS(map[string]string{"profiles/p/profile.json": `{"id":"p","title":"p","edition":"1","authority":"a","units":"US","verify":"verify",
	  "sources":{"b":{"title":"b"}}, "method":{"load":"fixture_units"},` + fixture + `}`})
	p, err := Load(fsys, "p")
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name string
		q    FixtureQuery
		want string
	}{
		{"at the bound: 1.6 gal is 6057 mL", FixtureQuery{Kind: "water_closet", Use: "private", Flush: some(int64(6057))}, "low"},
		{"over the bound", FixtureQuery{Kind: "water_closet", Use: "private", Flush: some(int64(6058))}, "any"},
		{"over the bound with a tank", FixtureQuery{Kind: "water_closet", Use: "private", FlushType: "tank", Flush: some(int64(9000))}, "tank"},
		{"flush not stated", FixtureQuery{Kind: "water_closet", Use: "private"}, "any"},
		{"use not stated", FixtureQuery{Kind: "water_closet", Flush: some(int64(6057))}, "any"},
		{"emergency", FixtureQuery{Kind: "floor_drain", Emergency: some(true), TrapDN: some(int64(50))}, "emergency"},
		{"not for emergencies", FixtureQuery{Kind: "floor_drain", Emergency: some(false), TrapDN: some(int64(50))}, "small"},
		{"emergency not stated", FixtureQuery{Kind: "floor_drain", TrapDN: some(int64(80))}, "large"},
		{"trap not stated", FixtureQuery{Kind: "floor_drain"}, ""},
		{"assumed", FixtureQuery{Kind: "shower"}, "shower"},
		{"assumed, but stated", FixtureQuery{Kind: "shower", Flow: some(int64(900))}, ""},
		{"no row", FixtureQuery{Kind: "bathtub"}, ""},
	} {
		f, ok := p.Fixture(tt.q)
		if f.Class != tt.want || ok != (tt.want != "") {
			t.Errorf("%s: Fixture = %q, %v, want %q", tt.name, f.Class, ok, tt.want)
		}
	}
	model := mustLoad(t, "model")
	for _, tt := range []struct {
		flush *int64
		want  int64
	}{{some(int64(6057)), 5000}, {some(int64(6058)), 6000}, {nil, 6000}} {
		if g, ok := model.BathroomGroup(tt.flush); !ok || g.Load != tt.want {
			t.Errorf("BathroomGroup = %v, %v, want %d", g.Load, ok, tt.want)
		}
	}
}

func TestListNamesBrokenProfilesToo(t *testing.T) {
	list, err := List(policiesFS(map[string]string{"profiles/bad/profile.json": `{`}))
	if len(list) != 2 || list[0].ID != "model" || list[1].Amends != "model" {
		t.Errorf("List = %+v", list)
	}
	if err == nil || !strings.Contains(err.Error(), "profiles/bad/profile.json:1:2: ") {
		t.Errorf("List error = %v", err)
	}
	if _, ok := errors.AsType[*Error](err); !ok {
		t.Error("the error of a broken profile is no *Error")
	}
}

// The profiles of the project load; what they say is tested beside them.
func TestProjectProfilesLoad(t *testing.T) {
	fsys := os.DirFS("../../policies")
	list, err := List(fsys)
	if err != nil {
		t.Error(err)
	}
	for _, s := range list {
		if s.Figures.Total() == 0 {
			t.Errorf("profile %s has no figures", s.ID)
		}
	}
}
