package plant

import (
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
)

const house = `{
  "project": { "name": "Row house" },
  "pipes": [
    { "id": "wet-1", "slope": "1/4 in/ft" },
    { "id": "wet-2",  "slope": "1/4 in/ft",
      "devices": [ { "id": "check", "place": "above_cover" } ] }
  ]
}
`

func fault(patch ...Operation) Fault { return Fault{Name: "drain/too_flat", Patch: patch} }

func op(kind, path, value string) Operation {
	return Operation{Op: kind, Path: path, Value: []byte(value)}
}

// TestApplyKeepsTheLayout compares with RFC 6902, sections 4.1 to 4.4: what an
// operation does not name stays as it was written.
func TestApplyKeepsTheLayout(t *testing.T) {
	for _, c := range []struct {
		name  string
		patch Operation
		old   string
		new   string
	}{
		{"replace by id", op("replace", "/pipes/@wet-2/slope", `"1/8 in/ft"`), `"wet-2",  "slope": "1/4 in/ft"`, `"wet-2",  "slope": "1/8 in/ft"`},
		{"replace by index", op("replace", "/pipes/0/slope", `"2 %"`), `"wet-1", "slope": "1/4 in/ft"`, `"wet-1", "slope": "2 %"`},
		{"id within an element", op("replace", "/pipes/@wet-2/devices/@check/place", `"buried"`), `"above_cover"`, `"buried"`},
		{"remove a member", op("remove", "/pipes/@wet-1/slope", ""), `{ "id": "wet-1", "slope": "1/4 in/ft" }`, `{ "id": "wet-1" }`},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := fault(c.patch).Apply([]byte(house))
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(strings.Replace(house, c.old, c.new, 1), string(got)); diff != "" {
				t.Errorf("-want +got:\n%s", diff)
			}
		})
	}
}

func TestApplyLeavesTheDesignAlone(t *testing.T) {
	design := []byte(house)
	if _, err := fault(op("replace", "/pipes/@wet-2/slope", `"0 %"`)).Apply(design); err != nil {
		t.Fatal(err)
	}
	if string(design) != house {
		t.Error("the design given was changed")
	}
}

// TestIdsFollowTheSteps holds that an id is looked up where the steps before
// have moved its element to.
func TestIdsFollowTheSteps(t *testing.T) {
	got, err := fault(op("remove", "/pipes/@wet-1", ""), op("replace", "/pipes/@wet-2/slope", `"5 %"`)).Apply([]byte(house))
	if err != nil {
		t.Fatal(err)
	}
	if s := string(got); strings.Contains(s, "wet-1") || !strings.Contains(s, `"slope": "5 %"`) {
		t.Errorf("got %s", s)
	}
}

// TestIdsWithASlash holds that an id is escaped in a path as RFC 6901, section
// 3, has it.
func TestIdsWithASlash(t *testing.T) {
	got, err := fault(op("remove", "/list/@a~1b", "")).Apply([]byte(`{"list": [{"id": "a/b"}, {"id": "c"}]}`))
	if err != nil {
		t.Fatal(err)
	}
	if strings.Contains(string(got), "a/b") || !strings.Contains(string(got), `"c"`) {
		t.Errorf("got %s", got)
	}
}

func TestMoveNamesBothEndsById(t *testing.T) {
	got, err := fault(Operation{Op: "move", From: "/pipes/@wet-2/devices", Path: "/pipes/@wet-1/devices"}).Apply([]byte(house))
	if err != nil {
		t.Fatal(err)
	}
	before, after, _ := strings.Cut(string(got), `"wet-2"`)
	if !strings.Contains(before, "above_cover") || strings.Contains(after, "above_cover") {
		t.Errorf("got %s", got)
	}
}

func TestApplyRefuses(t *testing.T) {
	for _, c := range []struct {
		name, design, want string
		patch              Operation
	}{
		{"an unknown id", house, "no element of /pipes has the id \"wet-3\"\n    hint: did you mean \"wet-1\" or \"wet-2\"?", op("replace", "/pipes/@wet-3/slope", `"1 %"`)},
		{"an id that is far off", house, `has the id "chimney"`, op("remove", "/pipes/@chimney", "")},
		{"a value that is not there", house, "value not found", op("replace", "/pipes/@wet-1/sloop", `"1 %"`)},
		{"a patch that changes nothing", house, "the patch changes nothing", op("replace", "/pipes/@wet-1/slope", ` "1/4 in/ft"`)},
		{"a test that does not hold", house, "patch 1, test /pipes/0/id", op("test", "/pipes/0/id", `"wet-9"`)},
		{"an operation that does not exist", house, "unknown operation", op("swap", "/pipes/0/id", `"wet-9"`)},
		{"what is not JSON", `{"pipes":`, "the design is not JSON", op("remove", "/pipes", "")},
		{"comments", "{} // not JSON", "the design is not JSON", op("add", "/a", "1")},
		{"endless nesting", strings.Repeat("[", 1e6), "the design is not JSON", op("add", "/a", "1")},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := fault(c.patch).Apply([]byte(c.design))
			if err == nil {
				t.Fatalf("no error, got %s", got)
			}
			if !strings.Contains(err.Error(), c.want) || !strings.HasPrefix(err.Error(), "drain/too_flat.json: ") {
				t.Errorf("error %q, want %q in it", err, c.want)
			}
		})
	}
}

const sound = `{"rule":"drain/too_flat","subject":"wet-2","profile":"ipc-2021","outcome":"fail","why":"too flat","patch":[{"op":"remove","path":"/a"}]}`

func TestLoad(t *testing.T) {
	faults, err := Load(fstest.MapFS{
		"drain/too_flat.json":        {Data: []byte(sound)},
		"drain/too_flat-branch.json": {Data: []byte(sound)},
		"drain/README.md":            {Data: []byte("not a fault")},
	})
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, f := range faults {
		names = append(names, f.Name)
	}
	if diff := cmp.Diff([]string{"drain/too_flat", "drain/too_flat-branch"}, names); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
}

func TestLoadRefuses(t *testing.T) {
	change := func(old, new string) string { return strings.Replace(sound, old, new, 1) }
	for _, c := range []struct{ name, file, text, want string }{
		{"another rule's file", "drain/overloaded.json", sound, "not named after its rule"},
		{"a rule of a longer name", "drain/too_flatter.json", sound, "not named after its rule"},
		{"an unknown key", "drain/too_flat.json", change(`"why"`, `"because"`), "unknown field"},
		{"no reason", "drain/too_flat.json", change("too flat", " "), `"why" is not stated`},
		{"an unknown outcome", "drain/too_flat.json", change(`"fail"`, `"pass"`), `no such outcome: "pass"`},
		{"open without a fact", "drain/too_flat.json", change(`"fail"`, `"open"`), "misses a fact"},
		{"a fact that a failure misses", "drain/too_flat.json", change(`"why"`, `"missing":["slope"],"why"`), "only an open outcome"},
		{"a consequence without subject", "drain/too_flat.json", change(`"why"`, `"also":["drain/overloaded"],"why"`), "not a rule and a subject"},
		{"no patch", "drain/too_flat.json", change(`{"op":"remove","path":"/a"}`, ""), "the patch is empty"},
		{"what is not JSON", "drain/too_flat.json", "{\n  \"rule\" \"drain\" }", "drain/too_flat.json:2:10: invalid character"},
		{"a number for a word", "drain/too_flat.json", change(`"too flat"`, "7"), "drain/too_flat.json:1:"},
		{"two faults", "drain/too_flat.json", sound + sound, "text after the fault"},
	} {
		t.Run(c.name, func(t *testing.T) {
			good := fstest.MapFile{Data: []byte(sound)}
			faults, err := Load(fstest.MapFS{c.file: {Data: []byte(c.text)}, "drain/too_flat-sound.json": &good})
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error %v, want %q in it", err, c.want)
			}
			if len(faults) != 1 {
				t.Errorf("%d faults read, want the sound one", len(faults))
			}
		})
	}
}
