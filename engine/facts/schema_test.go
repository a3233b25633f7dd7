package facts

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v5"
)

var update = flag.Bool("update", false, "write schema/facts.schema.json")

const schemaFile = "../../schema/facts.schema.json"

func TestSchemaFileIsUpToDate(t *testing.T) {
	want := Schema()
	if *update {
		if err := os.WriteFile(schemaFile, want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(schemaFile)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s differs from the structs; run: go test ./engine/facts -run Schema -update", schemaFile)
	}
}

// The JSON Schema engine, not our own reading of the tags, decides here.
func TestSchemaAcceptsFactsOnly(t *testing.T) {
	c := jsonschema.NewCompiler()
	if err := c.AddResource("facts.schema.json", bytes.NewReader(Schema())); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("facts.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	slope := int64(20833)
	empty := Facts{
		Fixtures: []Fixture{}, TrapArms: []TrapArm{}, WetVents: []WetVent{}, Vents: []Vent{}, Terminals: []Terminal{},
		AirValves: []AirAdmittanceValve{}, Fittings: []Fitting{}, Joints: []Joint{}, Cleanouts: []Cleanout{},
		CleanoutNeeds: []CleanoutNeed{}, CleanoutRuns: []CleanoutRun{}, Basins: []Basin{}, Pumps: []Pump{},
		Discharges: []Discharge{}, Valves: []Valve{}, Connections: []Connection{}, Backwater: []BackwaterValve{},
		Drains: []Drain{{ID: "b3", Slope: &slope, FixtureKinds: []string{}}},
	}
	text, err := json.Marshal(empty)
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name, old, new string
		ok             bool
	}{
		{"as marshalled", "", "", true},
		{"a number with a fraction", "20833", "20833.5", false},
		{"a number as text", "20833", `"1/4 in/ft"`, false},
		{"unknown as null", "20833", "null", false},
		{"a name no struct has", `"slope"`, `"slpoe"`, false},
		{"a required fact left out", `,"dead_end":false`, "", false},
	} {
		changed := strings.Replace(string(text), tt.old, tt.new, 1)
		if tt.old != "" && changed == string(text) {
			t.Fatalf("%s: the facts hold no %s", tt.name, tt.old)
		}
		var doc any
		if err := json.Unmarshal([]byte(changed), &doc); err != nil {
			t.Fatalf("%s: %v", tt.name, err)
		}
		if err := s.Validate(doc); (err == nil) != tt.ok {
			t.Errorf("%s: Validate = %v, want ok %v", tt.name, err, tt.ok)
		}
	}
}
