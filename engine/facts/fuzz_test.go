package facts

import (
	"bytes"
	"encoding/json"
	"math/rand/v2"
	"reflect"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/santhosh-tekuri/jsonschema/v5"

	"backpitch/engine/calcs"
	"backpitch/engine/design"
	"backpitch/engine/finding"
	"backpitch/engine/network"
	"backpitch/engine/quantity"
	"backpitch/schema"
	"backpitch/testdata/designs/random"
)

// FuzzDerive rewires the designs of the tests, and designs made at random: ends
// swapped, pipes doubled, services, sizes and statements changed or left out.
// Whatever comes out, Build and Derive end, do not panic, give the same facts
// twice and in any order, and what they give keeps to its schema and to what
// any building keeps to.
func FuzzDerive(f *testing.F) {
	var bodies []string
	for _, name := range []string{"washroom", "pumped", "bathroom", "vented", "mains", "lift"} {
		bodies = append(bodies, all[name])
	}
	for i := range bodies {
		f.Add(uint64(i), uint64(i*31+7), uint8(i))
	}
	for i := range 8 {
		f.Add(uint64(i), uint64(i*17+3), uint8(200+i))
	}
	factsSchema, err := schema.Compile("facts")
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, a, b uint64, which uint8) {
		var d *design.Document
		if which < 128 {
			d = read(t, bodies[int(which)%len(bodies)])
		} else {
			var problems []finding.Problem
			if d, problems = design.Read("random", random.Design(a^b, 1+int(which)%100), design.Limits{}); len(problems) > 0 {
				t.Fatal(problems)
			}
		}
		r := rand.New(rand.NewPCG(a, b))
		for range 1 + r.IntN(6) {
			mutate(r, d)
		}
		n, problems := network.Build(d)
		facts, more := DeriveWith(d, n, tables{})
		checkFacts(t, factsSchema, facts)
		shuffle(r, d.Pipes)
		shuffle(r, d.Junctions)
		shuffle(r, d.Fixtures)
		n2, problems2 := network.Build(d)
		rec := &calcs.Record{} // what is written down changes no fact, and every step prints
		facts2, more2 := deriveInto(d, n2, tables{}, rec)
		new(calcs.Sheet).Write(rec, quantity.US, nil)
		if duplicates(d) {
			return // the first in the file keeps its id: order matters
		}
		if len(problems) != len(problems2) || len(more) != len(more2) {
			t.Errorf("problems change with the order: %v, %v; %v, %v", problems, more, problems2, more2)
		}
		if diff := cmp.Diff(facts, facts2); diff != "" {
			t.Errorf("facts change with the order (-want +got):\n%s", diff)
		}
	})
}

func duplicates(d *design.Document) bool {
	seen := map[string]bool{}
	for i := range d.Pipes {
		if seen[d.Pipes[i].ID] {
			return true
		}
		seen[d.Pipes[i].ID] = true
	}
	return false
}

func mutate(r *rand.Rand, d *design.Document) {
	var ids []string
	for _, x := range d.Fixtures {
		ids = append(ids, x.ID)
	}
	for _, x := range d.Junctions {
		ids = append(ids, x.ID)
	}
	for _, x := range d.Basins {
		ids = append(ids, x.ID)
	}
	for _, x := range d.Pumps {
		ids = append(ids, x.ID)
	}
	for _, x := range d.Connections {
		ids = append(ids, x.ID)
	}
	for _, x := range d.Terminals {
		ids = append(ids, x.ID)
	}
	if len(ids) == 0 || len(d.Pipes) == 0 {
		return
	}
	any := func() string { return ids[r.IntN(len(ids))] }
	p := &d.Pipes[r.IntN(len(d.Pipes))]
	switch r.IntN(16) {
	case 0:
		p.From, p.To = p.To, p.From
	case 1:
		p.To = any()
	case 2:
		p.From = any()
	case 3:
		p.Service = []string{"drain", "vent", "pumped"}[r.IntN(3)]
	case 4:
		q := *p
		q.ID += "-again"
		q.Devices = nil // their ids would stand twice, which Read refuses
		d.Pipes = append(d.Pipes, q)
	case 5:
		q := *p
		d.Pipes = append(d.Pipes, q)
	case 6:
		p.Lie = []string{"", "horizontal", "vertical", "sloped_45"}[r.IntN(4)]
	case 7:
		p.Role = []string{"", "stack", "branch", "fixture_drain", "building_drain"}[r.IntN(5)]
	case 8:
		p.Venting = []string{"", "wet", "circuit", "combination"}[r.IntN(4)]
	case 9:
		q := d.Pipes[r.IntN(len(d.Pipes))]
		p.Length, p.Slope, p.InvertFrom, p.InvertTo, p.Size = q.InvertTo, q.Slope, q.Length, q.InvertFrom, q.Size
	case 10:
		d.Groups = append(d.Groups, design.Group{ID: "g" + any(), Fixtures: []string{any(), any(), any()}})
	case 11:
		i := r.IntN(len(d.Pipes))
		d.Pipes = append(d.Pipes[:i:i], d.Pipes[i+1:]...)
		if len(d.Pipes) == 0 {
			d.Pipes = append(d.Pipes, *p)
		}
	case 12:
		if len(d.Pumps) > 0 {
			u := &d.Pumps[r.IntN(len(d.Pumps))]
			if u.Basin = any(); r.IntN(2) == 0 && len(d.Basins) > 0 {
				u.Basin = d.Basins[r.IntN(len(d.Basins))].ID
			}
		}
	case 13:
		p.Length, p.Slope, p.InvertFrom, p.InvertTo = design.Length{}, design.Slope{}, design.Length{}, design.Length{}
	case 14:
		p.Size = design.Size{}
	case 15: // levels, sizes and rates of another element
		q := &d.Pipes[r.IntN(len(d.Pipes))]
		p.InvertFrom, q.InvertFrom = q.InvertFrom, p.InvertFrom
		if len(d.Basins) > 0 && d.Basins[0].Levels != nil {
			l := d.Basins[0].Levels
			l.Start, l.Stop = l.Stop, l.Start
		}
	}
}

// signed are the units whose figures may be below zero: heights, falls and
// slopes are measured from somewhere, and so is what is left of a rate.
var signed = map[string]bool{"length": true, "slope": true, "angle": true}

// mostOf is beyond any figure of a building, and what programs that read
// numbers as floating point still tell apart.
const mostOf = 1 << 53

// checkFacts holds facts to their schema and to themselves.
func checkFacts(t *testing.T, s *jsonschema.Schema, f *Facts) {
	t.Helper()
	text, err := json.Marshal(f)
	if err != nil {
		t.Fatal(err)
	}
	var plain any
	dec := json.NewDecoder(bytes.NewReader(text))
	dec.UseNumber()
	if err := dec.Decode(&plain); err != nil {
		t.Fatal(err)
	}
	if err := s.Validate(plain); err != nil {
		t.Fatalf("the facts break their schema: %#v", err)
	}
	all := reflect.ValueOf(f).Elem()
	for i := range all.NumField() {
		name, list := all.Type().Field(i).Name, all.Field(i)
		if list.Kind() != reflect.Slice {
			checkFigures(t, name, list)
			continue
		}
		last := ""
		for j := range list.Len() {
			id := list.Index(j).FieldByName("ID").String()
			if name == "WetVents" { // a drain may be one of each kind
				id += " " + list.Index(j).FieldByName("Kind").String()
			}
			if j > 0 && id <= last {
				t.Errorf("%s: %q stands after %q", name, id, last)
			}
			last = id
			checkFigures(t, name+" "+id, list.Index(j))
		}
	}
	carried := map[string]int64{}
	for _, d := range f.Drains {
		carried[d.To] += d.Fixtures
	}
	starts := map[string]int64{}
	for _, x := range f.Fixtures {
		starts[x.ID] = 1
	}
	pumped := map[string]int64{}
	for _, m := range f.Discharges {
		pumped[m.ReceiverID] += m.Fixtures
	}
	for _, d := range f.Drains {
		if least := carried[d.From] + starts[d.From]; d.Fixtures < least || d.Fixtures > least+pumped[d.From] {
			t.Errorf("drain %s carries %d fixtures; %d arrive by gravity at %s and %d by pump", d.ID, d.Fixtures, least, d.From, pumped[d.From])
		}
	}
}

// checkFigures holds every figure of one subject to its unit, and to the least
// and the greatest that the same subject gives for it.
func checkFigures(t *testing.T, who string, v reflect.Value) {
	t.Helper()
	figure := func(name string) (int64, bool) {
		field := v.FieldByName(name)
		if !field.IsValid() || field.Kind() != reflect.Pointer || field.IsNil() || field.Elem().Kind() != reflect.Int64 {
			return 0, false
		}
		return field.Elem().Int(), true
	}
	for i := range v.NumField() {
		field := v.Type().Field(i)
		unit := field.Tag.Get("unit")
		n, known := figure(field.Name)
		if v.Field(i).Kind() == reflect.Int64 {
			n, known = v.Field(i).Int(), true
		}
		if !known {
			continue
		}
		if unit == "" || n > mostOf || n < -mostOf || n < 0 && !signed[unit] {
			t.Errorf("%s: %s is %d %s", who, field.Name, n, unit)
		}
		if low, ok := figure(field.Name + "Low"); ok && low > n {
			t.Errorf("%s: %s is %d, at least %d", who, field.Name, n, low)
		}
		if high, ok := figure(field.Name + "High"); ok && high < n {
			t.Errorf("%s: %s is %d, at most %d", who, field.Name, n, high)
		}
	}
}
