package profile

import (
	"errors"
	"strings"
	"testing"
)

// edit is the model with one thing changed.
func edit(t *testing.T, text, old, new string) string {
	t.Helper()
	if strings.Count(text, old) != 1 {
		t.Fatalf("%q stands %d times in the profile", old, strings.Count(text, old))
	}
	return strings.Replace(text, old, new, 1)
}

func TestLoadRefusesByName(t *testing.T) {
	for _, tt := range []struct {
		name, old, new, want, hint string
	}{
		{"a rule that does not exist", `"drain/too_flat"`, `"drain/to_flat"`, `the adopted rule "drain/to_flat" does not exist`, `did you mean "drain/too_flat"?`},
		{"a rule test is no rule", `"drain/too_flat"`, `"drain/too_steep_test"`, `the adopted rule "drain/too_steep_test" does not exist`, `did you mean`},
		{"a rule of another profile", `"drain/too_flat"`, `"town/odd"`, `the adopted rule "town/odd" does not exist`, ``},
		{"an adoption without basis", `"section": "7", "basis": "from memory", `, `"section": "7", `, `adoption drain/too_flat has no basis`, `write "checked"`},
		{"an adoption without source", `{"section": "7", "basis": "from memory", "source": "book"}`, `{"section": "7", "basis": "from memory"}`, `adoption drain/too_flat has no source`, ``},
		{"an adoption without section", `{"section": "7", `, `{`, `adoption drain/too_flat has no section`, `citing`},
		{"a source that is not there", `"note": "seen"`, `"source": "bok"`, `table drain.min_slope, row 4 in: there is no source "bok"`, `did you mean "book"?`},
		{"a table row without basis", `"flag", "is": false, "basis": "common practice", `, `"flag", "is": false, `, `table valve.accepted has no basis`, ``},
		{"a basis that is none", `"basis": "common practice"`, `"basis": "hearsay"`, `tables, valve.accepted, basis: "hearsay" is not a word that fits here`, `"checked"`},
		{"a basis that is none, in a row", `"3 in": {"value": "1/8 in/ft", "basis": "checked"}`, `"3 in": {"value": "1/8 in/ft", "basis": "hearsay"}`, `tables, drain.min_slope, rows, 3 in, basis: "hearsay" is not a word that fits here`, `"checked"`},
		{"the second of two unknown members", `"edition": "1"`, `"edition": "1", "editor": "x", "it's": 1`, `the profile: there is no "it's" here`, ``},
		{"a quantity that does not parse", `"2 in": "1/4 in/ft"`, `"2 in": "1/4 in"`, `table drain.min_slope, row 2 in: "1/4 in" is not a slope`, `slope`},
		{"a key that does not parse", `"4 in": {`, `"4.1 in": {`, `table drain.min_slope, row 4.1 in: "4.1 in" is not a size`, `nearest listed sizes`},
		{"a bare number", `"is": "18 in"`, `"is": 18`, `table basin.min_diameter: 18 is not a quantity in quotes`, ``},
		{"two rows for one size", `"4 in": {`, `"DN 80": {`, `table drain.min_slope, row DN 80: another row has the same key in other words, "3 in"`, ``},
		{"the same key twice", `"4 in": {`, `"3 in": {`, `"3 in" stands here twice`, ``},
		{"too many parts of a key", `"2 in": "1/4 in/ft"`, `"2 in | 3 in": "1/4 in/ft"`, `has a key of 2 parts; the table has 1 keys`, `|`},
		{"an unknown key kind", `"keys": ["size"]`, `"keys": ["siz"]`, `tables, drain.min_slope, keys, 0: "siz" is not a word that fits here`, `did you mean "size"?`},
		{"an unknown member", `"flow_curve": "flow.curve"`, `"flow_curv": "flow.curve"`, `method: there is no "flow_curv" here`, `did you mean "flow_curve"?`},
		{"an unknown member of the profile", `"edition": "1"`, `"edition": "1", "editor": "x"`, `the profile: there is no "editor" here`, `did you mean "edition"?`},
		{"a member that is missing", `"edition": "1", `, ``, `the profile lacks "edition"`, ``},
		{"a curve that is no table", `"flow_curve": "flow.curve"`, `"flow_curve": "flow.cur"`, `the flow curve "flow.cur" is no table of the profile`, `did you mean "flow.curve"?`},
		{"a curve that is no curve", `"flow_curve": "flow.curve"`, `"flow_curve": "vent.longest"`, `table vent.longest is no flow curve`, ``},
		{"a row never reached", `"wc-low": {"kind": "water_closet", "use": "private", "flush_at_most": "1.6 gal", `, `"wc-low": {"kind": "water_closet", `, `fixture wc is never reached: every fixture that fits it fits wc-low before it`, `narrower`},
		{"a kind that is none", `"kind": "lavatory"`, `"kind": "lavatry"`, `"lavatry" is not a word that fits here`, `did you mean "lavatory"?`},
		{"rows without keys", `"vent.longest": {"keys": ["size", "load"], `, `"vent.longest": {`, `table vent.longest has rows and no keys`, ``},
		{"keys without rows", `"pipe.many": {`, `"pipe.many": {"keys": ["size"], `, `table pipe.many has keys and one value`, ``},
		{"a number that is not whole", `"is": 3,`, `"is": 3.5,`, `table pipe.many: "3.5" is not a whole number`, ``},
		{"a word for true", `"is": false`, `"is": "no"`, `table valve.accepted: "no" is not a flag`, ``},
		{"a table inside a table", `"pipe.many"`, `"basin.min_diameter.more"`, `"min_diameter" is a table itself`, ``},
		{"the fixture table's name", `"pipe.many"`, `"fixture.load"`, `the name belongs to the fixture table`, ``},
		{"another folder", `"id": "model"`, `"id": "modell"`, `the profile calls itself "modell" and stands in the folder "model"`, ``},
	} {
		t.Run(tt.name, func(t *testing.T) {
			fsys := policiesFS(map[string]string{"profiles/model/profile.json": edit(t, modelJSON, tt.old, tt.new)})
			_, err := Load(fsys, "model")
			wantError(t, err, "profiles/model/profile.json", tt.want, tt.hint)
		})
	}
}

func TestAmendmentRefusesByName(t *testing.T) {
	for _, tt := range []struct {
		name, old, new, want, hint string
	}{
		{"a base that is not there", `"amends": "model"`, `"amends": "modle"`, `profile "town" amends "modle", which does not exist`, `did you mean "model"?`},
		{"itself", `"amends": "model"`, `"amends": "town"`, `the amendments run in a ring: town amends town`, ``},
		{"a row as it was", `"2 in": "1/2 in/ft"`, `"3 in": {"value": "1/8 in/ft", "section": "T1", "source": "book"}`, `table drain.min_slope, 3 in: the amendment changes nothing, "model" says the same`, `leave out`},
		{"a row that is not there", `"4 in": null`, `"6 in": null`, `table drain.min_slope, 6 in: the amendment drops what "model" does not have`, `did you mean "2 in", "3 in" or "4 in"?`},
		{"a table that is not there", `"valve.accepted": null`, `"valve.acepted": null`, `table valve.acepted: the amendment drops what "model" does not have`, ``},
		{"a rule that is not there", `"drain/too_steep": null`, `"drain/too_step": null`, `adopts, drain/too_step: the amendment drops what "model" does not have`, `did you mean "drain/too_steep"`},
		{"a figure without basis", `"section": "T-1", "basis": "checked", "source": "law", "rows"`, `"rows"`, `table drain.min_slope, row 2 in has no basis`, `states its own`},
		{"a section without basis", `{"section": "T-9", "basis": "checked", "source": "law"}`, `{"section": "T-9"}`, `table basin.min_diameter has no basis`, `states its own`},
		{"a source key of the base", `"law": {"title": "The law"}`, `"law": {"title": "The law"}, "book": {"title": "Another"}`, `source "book" is another text in profile "town"`, `another key`},
		{"the same size in other words", `"2 in": "1/2 in/ft"`, `"DN 50": "1/2 in/ft"`, `another row has the same key in other words`, `write the key as the other row does`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			fsys := policiesFS(map[string]string{"profiles/town/profile.json": edit(t, townJSON, tt.old, tt.new)})
			_, err := Load(fsys, "town")
			wantError(t, err, "profiles/", tt.want, tt.hint)
		})
	}
}

func TestAmendmentThatSaysNothing(t *testing.T) {
	empty := `{"id":"town","title":"t","edition":"1","authority":"a","verify":"verify","amends":"model"}`
	_, err := Load(policiesFS(map[string]string{"profiles/town/profile.json": empty}), "town")
	wantError(t, err, "profiles/town", `the profile amends "model" and changes nothing`, "")
}

func TestRingOfThree(t *testing.T) {
	files := map[string]string{}
	for id, base := range map[string]string{"a": "b", "b": "c", "c": "a"} {
		files["profiles/"+id+"/profile.json"] = `{"id":"` + id + `","title":"t","edition":"1","authority":"a","verify":"verify","amends":"` + base + `"}`
	}
	_, err := Load(policiesFS(files), "b")
	wantError(t, err, "profiles/a/profile.json", "the amendments run in a ring: b amends c amends a amends b", "")
}

func TestNoSuchProfile(t *testing.T) {
	_, err := Load(policiesFS(nil), "modell")
	wantError(t, err, "", `there is no profile "modell"`, `did you mean "model"?`)
}

// wantError looks for one error with a place in the file, a message and a hint.
func wantError(t *testing.T, err error, file, message, hint string) {
	t.Helper()
	var list Errors
	if one, ok := err.(*Error); ok {
		list = Errors{one}
	} else if !errors.As(err, &list) {
		t.Fatalf("error = %v, want one with %q", err, message)
	}
	for _, e := range list {
		if strings.Contains(e.Message, message) && strings.Contains(e.Hint, hint) && strings.HasPrefix(e.File, file) {
			if file != "" && e.Line == 0 {
				t.Errorf("%v has no line", e)
			}
			return
		}
	}
	t.Errorf("errors = %v (hint %q)\nwant %q, hint %q", list, list.HintText(), message, hint)
}
