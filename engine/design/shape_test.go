package design

import (
	"strings"
	"testing"
)

// TestShapeFaults changes one spot of the sample and expects one problem just
// there. Columns are found by searching the changed line, not by the scanner.
func TestShapeFaults(t *testing.T) {
	for _, c := range []struct {
		name, old, new string
		at             string // the problem stands where this text starts in new
		code, pointer  string
		message, hint  string // parts
	}{
		{"key misspelt", `"slope": "1/4 in/ft"`, `"slop": "1/4 in/ft"`, `"slop"`, "unknown_key", "/pipes/0/slop", `a pipe has no key "slop"`, `did you mean "slope"?`},
		{"key of the document", `"datum":`, `"dautm":`, `"dautm"`, "unknown_key", "/dautm", `a design has no key "dautm"`, `did you mean "datum"?`},
		{"key in capitals", `"cord_length"`, `"Cord-Length"`, `"Cord`, "unknown_key", "/pumps/0/Cord-Length", "", `did you mean "cord_length"?`},
		{"key unlike any", `"cord_length"`, `"zzzzzzzz"`, `"zzz`, "unknown_key", "/pumps/0/zzzzzzzz", "", "the keys of a pump are basin, cord_length, curve"},
		{"key to be escaped", `"cord_length"`, `"a/b~c"`, `"a/b`, "unknown_key", "/pumps/0/a~1b~0c", `"a/b~c"`, ""},
		{"key of another element", `"outlet_drop": "14 in"`, `"outlet": "14 in"`, `"outlet"`, "unknown_key", "/fixtures/1/trap/outlet", "a trap has no key", `"outlet_drop" or "outlet_run"`},
		{"key with a dollar", `"$schema": "design.schema.json"`, `"$schema": 5`, "5", "wrong_type", "/$schema", `"$schema" is a number, not text`, "quotes"},
		{"key missing", `"service": "vent", `, ``, "", "missing_key", "/pipes/2", `a pipe needs the key "service"`, `"service" is one of drain, vent, pumped`},
		{"word", `"p_trap", "size": "1-1/4 in"`, `"ptrap", "size": "1-1/4 in"`, `"ptrap"`, "unknown_word", "/fixtures/1/trap/type", `"type" cannot be "ptrap"`, `did you mean "p_trap"? it is one of p_trap, integral`},
		{"number for a word", `"style": "swing"`, `"style": 3`, "3", "wrong_type", "/pipes/3/devices/1/style", `"style" is a number, not one of its words`, `"gate"`},
		{"bare size", `"size": "DN 50"`, `"size": 50`, "50", "bare_number", "/pipes/2/size", `"size" is the bare number 50`, `"DN 50"`},
		{"bare slope", `"slope": "1/8 in/ft"`, `"slope": 2`, "2", "bare_number", "/connections/0/slope", "a slope is text with its unit", `"2 %"`},
		{"object for a quantity", `"depth": "36 in"`, `"depth": {"in": 36}`, "{", "wrong_type", "/basins/0/depth", `"depth" is an object, not text`, `"3 ft 6 in"`},
		{"null for a quantity", `"depth": "36 in"`, `"depth": null`, "null", "wrong_type", "/basins/0/depth", `"depth" is null`, "leave the key out"},
		{"text for a list", `"fixtures": ["wc", "lav"]`, `"fixtures": "wc"`, `"wc"`, "wrong_type", "/bathroom_groups/0/fixtures", "is text, not a list", "square brackets"},
		{"text for an object", `"alarm": {"kind": "audible", "own_circuit": true}`, `"alarm": "x"`, `"x"`, "wrong_type", "/basins/0/alarm", "is text, not an object", ""},
		{"number in a list", `["wc", "lav"]`, `["wc", 7]`, "7", "wrong_type", "/bathroom_groups/0/fixtures/1", `item 2 of "fixtures" is a number, not text`, "quotes"},
		{"text for a flag", `"gas_tight": true`, `"gas_tight": "yes"`, `"yes"`, "wrong_type", "/basins/0/cover/gas_tight", "is text, not true or false", "without quotes"},
		{"text for a number", `"dwelling_units": 1`, `"dwelling_units": "1"`, `"1"`, "wrong_type", "/building/dwelling_units", "is text, not a whole number", "without quotes"},
		{"fraction of a thing", `"dwelling_units": 1`, `"dwelling_units": 1.5`, "1.5", "wrong_type", "/building/dwelling_units", "not a whole number", ""},
		{"no storey", `"storeys": 3`, `"storeys": 0`, "0", "out_of_range", "/building/storeys", "out of its range", "at least 1"},
		{"too much", `"dwelling_units": 1`, `"dwelling_units": 1e99`, "1e99", "out_of_range", "/building/dwelling_units", "1e99", "at most 100000"},
		{"no starts", `"max_starts_per_hour": 15`, `"max_starts_per_hour": 0`, "0", "out_of_range", "/pumps/0/max_starts_per_hour", "", "more than 0"},
		{"id", `"id": "vt"`, `"id": "v/t"`, `"v/t"`, "bad_id", "/terminals/0/id", `"v/t" is not an id`, "letters, digits"},
		{"id empty", `"id": "vt"`, `"id": ""`, `""`, "bad_id", "/terminals/0/id", "", ""},
		{"text empty", `"revision": "B"`, `"revision": ""`, `""`, "empty_text", "/project/revision", `"revision" is empty`, ""},
		{"text with a control character", `"revision": "B"`, `"revision": "\u001b[2J"`, `"\u001b`, "control_character", "/project/revision", `"revision" holds a control character`, ""},
		{"text that turns its direction", `"revision": "B"`, `"revision": "\u202e"`, `"\u202e`, "control_character", "/project/revision", "", ""},
		{"text too long", `"revision": "B"`, `"revision": "` + strings.Repeat("é", 1001) + `"`, `"é`, "long_text", "/project/revision", "longer than 1000 characters", ""},
		{"decimal comma", `"length": "22 ft"`, `"length": "22,5 ft"`, `"22,5`, "bad_quantity", "/pipes/3/length", "decimal comma", `"22.5 ft"`},
		{"unit of another kind", `"flow": "30 gpm"`, `"flow": "30 psi"`, `"30 psi"`, "bad_quantity", "/pumps/0/curve/1/flow", `"30 psi" is not a flow`, ""},
		{"no unit", `"weight": "95 lb"`, `"weight": "95"`, `"95"`, "bad_quantity", "/basins/0/weight", "it has no unit", `"95 lb"`},
		{"depth below 0", `"depth": "36 in"`, `"depth": "-36 in"`, `"-36`, "bad_quantity", "/basins/0/depth", `"-36 in" is below 0`, `"depth" is never negative`},
	} {
		t.Run(c.name, func(t *testing.T) {
			before, after, ok := strings.Cut(string(studio(t)), c.old)
			if !ok {
				t.Fatalf("the sample has no %s", c.old)
			}
			d, problems := Read("d.json", []byte(before+c.new+after), Limits{})
			if d != nil || len(problems) != 1 {
				t.Fatalf("document %v, problems %v", d != nil, problems)
			}
			p := problems[0]
			if p.Code != c.code || p.Place.Pointer != c.pointer {
				t.Errorf("got %s", place(p))
			}
			if !strings.Contains(p.Message, c.message) || !strings.Contains(p.Hint, c.hint) {
				t.Errorf("message %q, hint %q", p.Message, p.Hint)
			}
			// Columns of the sample are bytes: it is ASCII up to the change.
			line := 1 + strings.Count(before, "\n")
			col := len(before) - strings.LastIndexByte(before, '\n') + strings.Index(c.new, c.at)
			if c.at == "" { // the object itself
				col = strings.IndexByte(strings.Split(before, "\n")[line-1], '{') + 1
			}
			if p.Place.Line != line || p.Place.Col != col {
				t.Errorf("stands at %d:%d, want %d:%d", p.Place.Line, p.Place.Col, line, col)
			}
		})
	}
}

// TestFaultsOfOneStage are all told at once, each once.
func TestFaultsOfOneStage(t *testing.T) {
	in := `{
"project": {"nam": "x"},
"building": {"storeys": -1, "use": "house", "sewer_distance": "far"},
"pipes": [{"id": "a", "size": 3}, 7, {"id": "b", "service": "vent", "from": "a", "to": "c", "bends": [{"kind": "elbow", "at": 2}]}]
}`
	d, problems := Read("d.json", []byte(in), Limits{})
	if d != nil {
		t.Error("a Document was given")
	}
	want := strings.Join([]string{
		"2:12 missing_key /project", "2:13 unknown_key /project/nam",
		"3:25 out_of_range /building/storeys", "3:36 unknown_word /building/use", "3:63 bad_quantity /building/sewer_distance",
		"4:11 missing_key /pipes/0", "4:11 missing_key /pipes/0", "4:11 missing_key /pipes/0", "4:31 bare_number /pipes/0/size", "4:35 wrong_type /pipes/1",
		"4:112 unknown_word /pipes/2/bends/0/kind", "4:127 bare_number /pipes/2/bends/0/at",
	}, "\n")
	if got := strings.Join(places(problems), "\n"); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestIdsThatContradict(t *testing.T) {
	for _, c := range []struct{ name, old, new, want, message, hint string }{
		{"duplicate", `"id": "j2"`, `"id": "j1"`, "duplicate_id /junctions/1/id", `the id "j1" is also that of the junction on line 22`, ""},
		{"duplicate of another kind", `"id": "fov"`, `"id": "wc"`, "duplicate_id /pipes/3/devices/2/id", `the id "wc" is also that of the fixture on line 12`, ""},
		{"reserved", `"id": "j2"`, `"id": "building"`, "reserved_id /junctions/1/id", "building", ""},
		{"reserved too", `"id": "j2"`, `"id": "project"`, "reserved_id /junctions/1/id", "project", ""},
		{"no such basin", `"basin": "sump"`, `"basin": "smup"`, "dangling_id /pumps/0/basin", `pump "p1" names the basin "smup"`, `did you mean "sump"?`},
		{"basin that is a pipe", `"basin": "sump"`, `"basin": "lift"`, "dangling_id /pumps/0/basin", "it is the pumped pipe on line 34", ""},
		{"no such pump", `"pump": "p1"`, `"pump": "p2"`, "dangling_id /electrical/0/pump", `electrical supply "e1" names the pump "p2"`, `did you mean "p1"?`},
		{"no such fixture", `["wc", "lav"]`, `["wc", "lva"]`, "dangling_id /bathroom_groups/0/fixtures/1", `bathroom group "bath" names the fixture "lva"`, `did you mean "lav"?`},
		{"fixture twice", `["wc", "lav"]`, `["wc", "wc"]`, "repeated_id /bathroom_groups/0/fixtures/1", `names fixture "wc" twice`, ""},
	} {
		in := strings.Replace(string(studio(t)), c.old, c.new, 1)
		d, problems := Read("d.json", []byte(in), Limits{})
		if d == nil || len(problems) != 1 {
			t.Errorf("%s: document %v, problems %v", c.name, d != nil, problems)
			continue
		}
		p := problems[0]
		if got := p.Code + " " + p.Place.Pointer; got != c.want || !strings.Contains(p.Message, c.message) || !strings.Contains(p.Hint, c.hint) {
			t.Errorf("%s: got %s, %q, %q", c.name, got, p.Message, p.Hint)
		}
		if line, col := d.PointerPosition(p.Place.Pointer); line != p.Place.Line || col != p.Place.Col {
			t.Errorf("%s: stands at %d:%d, its pointer at %d:%d", c.name, p.Place.Line, p.Place.Col, line, col)
		}
	}
}
