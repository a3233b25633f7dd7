package engine_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/open-policy-agent/opa/v1/ast"
	opa "github.com/open-policy-agent/opa/v1/bundle"
	"github.com/open-policy-agent/opa/v1/rego"
	"github.com/open-policy-agent/opa/v1/storage/inmem"

	"backpitch/engine"
	"backpitch/engine/bundle"
	"backpitch/engine/facts"
	"backpitch/engine/finding"
	"backpitch/policies"
	"backpitch/schema"
	"backpitch/testdata/designs/random"
)

// alone asks rules for their subjects, each by itself and by stock OPA.
type alone map[string]rego.PreparedEvalQuery

func subjectsAlone(t *testing.T, profile string, rules []string) alone {
	t.Helper()
	packed, err := bundle.Pack(t.Context(), policies.FS(), profile, "")
	if err != nil {
		t.Fatal(err)
	}
	var data bytes.Buffer
	if err := packed.Write(&data); err != nil {
		t.Fatal(err)
	}
	b, err := opa.NewReader(&data).Read()
	if err != nil {
		t.Fatal(err)
	}
	modules := map[string]*ast.Module{}
	for name, m := range b.ParsedModules("profile") {
		modules[name] = m
	}
	c := ast.NewCompiler()
	if c.Compile(modules); c.Failed() {
		t.Fatal(c.Errors)
	}
	store := inmem.NewFromObject(b.Data)
	out := alone{}
	for _, id := range rules {
		ref := "data.rules"
		for part := range bytes.SplitSeq([]byte(id), []byte("/")) {
			ref += fmt.Sprintf("[%q]", part)
		}
		if out[id], err = rego.New(rego.Compiler(c), rego.Store(store), rego.Query(ref+".subject")).PrepareForEval(t.Context()); err != nil {
			t.Fatal(err)
		}
	}
	return out
}

func (a alone) subjects(t *testing.T, rule string, input any) []string {
	t.Helper()
	rs, err := a[rule].Eval(t.Context(), rego.EvalInput(input))
	if err != nil || len(rs) != 1 {
		t.Fatalf("%s: %d results, %v", rule, len(rs), err)
	}
	list := []string{}
	for id := range rs[0].Expressions[0].Value.(map[string]any) {
		list = append(list, id)
	}
	slices.Sort(list)
	return list
}

// plain is what stock programs see of a value: its JSON, numbers as written.
func plain(t *testing.T, value any) any {
	t.Helper()
	text, err := json.Marshal(value)
	if err != nil {
		t.Fatal(err)
	}
	d := json.NewDecoder(bytes.NewReader(text))
	d.UseNumber()
	var out any
	if err := d.Decode(&out); err != nil {
		t.Fatal(err)
	}
	return out
}

// TestRandomDesignsAreJudgedWhole holds for designs of all sizes, those of 5,000
// elements where there are many seeds, under one profile after the other, that
//
//   - the review ends in time, without a failure or a problem;
//   - each rule has exactly one outcome for each of the subjects that it names
//     when it is asked alone, and for nobody else;
//   - facts keep to their schema;
//   - the order of the elements in the document changes nothing but the places.
func TestRandomDesignsAreJudgedWhole(t *testing.T) {
	suite := wholeSuite(t)
	profiles, err := suite.engine.Profiles()
	if err != nil {
		t.Fatal(err)
	}
	factsSchema, err := schema.Compile("facts")
	if err != nil {
		t.Fatal(err)
	}
	single := map[string]alone{}
	outcomes := 0
	for seed := *firstSeed; seed < *firstSeed+uint64(*randomSeeds); seed++ {
		id := []string{"chicago", "en-12056"}[seed%2] // all of them where there is time
		if *randomSeeds >= wholeSeeds {
			id = profiles[seed%uint64(len(profiles))].ID
		}
		rules, err := suite.engine.Rules(id)
		if err != nil {
			t.Fatal(err)
		}
		if single[id] == nil {
			var ids []string
			for _, r := range rules {
				ids = append(ids, r.ID)
			}
			single[id] = subjectsAlone(t, id, ids)
		}
		data := random.Mixed(seed)
		if seed%499 == 7 && *randomSeeds >= wholeSeeds {
			data = random.Design(seed, random.Most)
		}
		name := fmt.Sprintf("seed %d under %s", seed, id)
		f, r := reviewInTime(t, suite.engine, data, id)
		if f == nil || r.Failure != "" || len(r.Problems) > 0 {
			t.Fatalf("%s: %s %v", name, r.Failure, r.Problems)
		}

		input := plain(t, f)
		if err := factsSchema.Validate(input); err != nil {
			t.Errorf("%s: the facts break their schema: %#v", name, err)
		}
		judged := map[string][]string{}
		for _, x := range r.Findings {
			judged[x.Rule] = append(judged[x.Rule], x.Subject)
		}
		for _, rule := range rules {
			got, want := judged[rule.ID], single[id].subjects(t, rule.ID, input)
			slices.Sort(got)
			if !slices.Equal(got, want) {
				t.Errorf("%s: %s judges %q, its subjects are %q", name, rule.ID, got, want)
			}
			outcomes += len(got)
			delete(judged, rule.ID)
		}
		if len(judged) > 0 {
			t.Errorf("%s: rules judge that the profile does not adopt: %v", name, judged)
		}

		f2, r2 := reviewInTime(t, suite.engine, shuffled(t, data, seed), id)
		if f2 == nil {
			t.Fatalf("%s, shuffled: %s %v", name, r2.Failure, r2.Problems)
		}
		if diff := cmp.Diff(input, plain(t, f2)); diff != "" {
			t.Errorf("%s: another order of elements gives other facts (-as drawn +shuffled):\n%s", name, diff)
		}
		if diff := cmp.Diff(placeless(r), placeless(r2)); diff != "" {
			t.Errorf("%s: another order of elements gives other findings (-as drawn +shuffled):\n%s", name, diff)
		}
	}
	if outcomes < 50*int(*randomSeeds) {
		t.Errorf("only %d outcomes were compared", outcomes)
	}
	t.Logf("%d outcomes", outcomes)
}

// reviewInTime gives up after a minute, whatever hangs.
func reviewInTime(t *testing.T, e *engine.Engine, data []byte, profile string) (*facts.Facts, finding.Review) {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	type answer struct {
		f *facts.Facts
		r finding.Review
	}
	done := make(chan answer, 1)
	go func() {
		s := engine.Submission{Name: "random", Data: data}
		f, r := e.Facts(s, profile)
		if f != nil {
			r = e.Review(ctx, s, profile)
		}
		done <- answer{f, r}
	}()
	select {
	case a := <-done:
		return a.f, a.r
	case <-time.After(90 * time.Second):
		t.Fatal("the review does not end")
		return nil, finding.Review{}
	}
}

// placeless are the findings, sorted, without where in the file they stand.
func placeless(r finding.Review) []finding.Finding {
	list := slices.Clone(r.Findings)
	for i := range list {
		list[i].Place = finding.Place{}
	}
	slices.SortFunc(list, func(a, b finding.Finding) int {
		return cmpText(a.Rule+" "+a.Subject, b.Rule+" "+b.Subject)
	})
	return list
}

func cmpText(a, b string) int { return bytes.Compare([]byte(a), []byte(b)) }

// shuffled is the design with its lists in another order, and its keys in that
// of the alphabet. Bends, joints, devices and curves keep theirs, which says
// how the water meets them.
func shuffled(t *testing.T, data []byte, seed uint64) []byte {
	t.Helper()
	var doc map[string]any
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	if err := d.Decode(&doc); err != nil {
		t.Fatal(err)
	}
	order := rand.New(rand.NewPCG(seed, 1))
	mix := func(list []any) {
		order.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
	}
	for _, key := range []string{"fixtures", "bathroom_groups", "junctions", "pipes", "terminals", "basins", "pumps", "electrical", "connections"} {
		list, _ := doc[key].([]any)
		mix(list)
		for _, item := range list {
			if of, ok := item.(map[string]any)["fixtures"].([]any); ok && key == "bathroom_groups" {
				mix(of)
			}
		}
	}
	out, err := json.MarshalIndent(doc, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// TestLargestRandomDesign judges 5,000 elements under the profile whose rule
// once looked through all fixtures for each wet vent and took minutes; under
// every profile where there are many seeds. It takes one or two seconds.
func TestLargestRandomDesign(t *testing.T) {
	suite := wholeSuite(t)
	ids := []string{"ontario"}
	if *randomSeeds >= wholeSeeds {
		profiles, err := suite.engine.Profiles()
		if err != nil {
			t.Fatal(err)
		}
		ids = nil
		for _, p := range profiles {
			ids = append(ids, p.ID)
		}
	}
	data := random.Design(1005, random.Most)
	for _, id := range ids {
		ctx, cancel := context.WithTimeout(t.Context(), 45*time.Second)
		r := suite.engine.Review(ctx, engine.Submission{Name: "random", Data: data}, id)
		cancel()
		if r.Failure != "" || len(r.Problems) > 0 || len(r.Findings) < 50 {
			t.Errorf("%s: %d findings, %s %v", id, len(r.Findings), r.Failure, r.Problems)
		}
	}
}
