package report

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"backpitch/engine/calcs"
	"backpitch/engine/finding"
	"backpitch/schema"
)

// small is a sheet of one result: half a gallon a second is 30 gpm.
func small() *calcs.Sheet {
	return &calcs.Sheet{
		File: "a.json", Project: finding.Project{Name: "Test | studio"}, Verify: "verify with local authority",
		Profile: finding.ProfileInfo{ID: "p", Title: "P", Edition: "1", Authority: "A", Units: "US", Verify: "verify with local authority"},
		Methods: []string{"by hand"}, Gaps: []calcs.Gap{{Subject: "p1", What: "rate", Why: "no curve"}},
		Tables: []calcs.Table{{Title: "Loads", Columns: []string{"where", "load"}, Rows: [][]string{{"main", "3 dfu"}}, Notes: []string{"a note"}}},
		Formulas: []calcs.Formula{{ID: "sum", Title: "design flow", Expression: "Qg + Qp", Source: "continuity",
			Result: calcs.Symbol{Name: "Q", Meaning: "design flow", Unit: "gpm"}, Symbols: []calcs.Symbol{{Name: "Qg", Meaning: "gravity", Unit: "gpm"}, {Name: "Qp", Meaning: "pumped", Unit: "gpm"}}}},
		Steps: []calcs.Step{{Formula: "sum", Subject: "main", Fact: "design_flow", Inputs: []calcs.Input{{Symbol: "Qg", Value: "10"}, {Symbol: "Qp", Value: "20"}},
			Substituted: "10 + 20", Result: "30", Unit: "gpm", Low: "28", High: "31",
			Judged: []calcs.Judged{{Rule: "drain/over_filled", Section: "1", Limit: "50 %", Outcome: "pass", Basis: "from memory"}}}},
	}
}

func printed(t *testing.T, format string) string {
	t.Helper()
	write, err := ForSheet(format)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := write(&b, small(), Options{Version: "test"}); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestSheetJSONFollowsItsSchema(t *testing.T) {
	s, err := schema.Compile("calcs")
	if err != nil {
		t.Fatal(err)
	}
	var v any
	if err := json.Unmarshal([]byte(printed(t, "json")), &v); err != nil {
		t.Fatal(err)
	}
	if err := s.Validate(v); err != nil {
		t.Errorf("%#v", err)
	}
	v.(map[string]any)["steps"].([]any)[0].(map[string]any)["result"] = "about 30"
	if s.Validate(v) == nil {
		t.Error("the schema accepts a result that is no number")
	}
}

func TestEveryFormatHasTheWholeStep(t *testing.T) {
	for _, format := range SheetFormats() {
		out := printed(t, format)
		for _, part := range []string{"Qg + Qp", "10 + 20", "30", "28", "31", "drain/over", "continuity", "no curve", "verify with local authority", "Sewer gas", "a note", "3 dfu"} {
			if !strings.Contains(strings.ReplaceAll(out, `\`, ""), part) {
				t.Errorf("%s lacks %q", format, part)
			}
		}
	}
	if !strings.Contains(printed(t, "markdown"), `Test \| studio`) {
		t.Error("a bar in a name breaks the table")
	}
	if _, err := ForSheet("pdf"); err == nil {
		t.Error("a format that does not exist was found")
	}
}
