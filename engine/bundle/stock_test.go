package bundle_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	opa "github.com/open-policy-agent/opa/v1/bundle"
	"github.com/open-policy-agent/opa/v1/rego"
	"github.com/open-policy-agent/opa/v1/tester"

	"backpitch/engine"
	"backpitch/engine/bundle"
	"backpitch/engine/facts"
	"backpitch/engine/plant"
	"backpitch/engine/policy"
	"backpitch/engine/profile"
	"backpitch/policies"
	"backpitch/testdata/designs/random"
)

var everything = flag.Bool("everything", false, "compare every fault under every profile: minutes; without, under one, and some under each")

var randomSeeds = flag.Uint("seeds", 20, "random designs whose verdicts are compared; 1000 take minutes")

// packed is the bundle of a profile, as bytes.
func packed(t testing.TB, id string) []byte {
	t.Helper()
	b, err := bundle.Pack(t.Context(), policies.FS(), id, "")
	if err != nil {
		t.Fatal(err)
	}
	return written(t, b)
}

func written(t testing.TB, b *bundle.Bundle) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := b.Write(&out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// allDesigns are the demo designs, the bases of the faults, and every fault
// planted in its base.
func allDesigns(t *testing.T) map[string][]byte {
	t.Helper()
	const folder = "../../testdata/designs"
	designs := map[string][]byte{}
	for _, pattern := range []string{"/*.json", "/bases/*.json"} {
		files, err := filepath.Glob(folder + pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range files {
			if designs[strings.TrimSuffix(filepath.Base(file), ".json")], err = os.ReadFile(file); err != nil {
				t.Fatal(err)
			}
		}
	}
	if len(designs) < 6 {
		t.Fatalf("there are %d designs, want the three demo designs and the bases", len(designs))
	}
	faults, err := plant.Load(os.DirFS(folder + "/faults"))
	if err != nil || len(faults) < 50 {
		t.Fatalf("%d faults, %v", len(faults), err)
	}
	for _, f := range faults {
		base := f.Base
		if designs[base] == nil {
			base = "pottery-studio"
		}
		data, err := f.Apply(designs[base])
		if err != nil {
			t.Fatal(err)
		}
		designs["fault "+f.Name] = data
	}
	return designs
}

// row is a verdict as both can say it.
type row struct {
	Outcome, Op, Detail string
	Measured, Limit     string // JSON
}

// stock is OPA as anyone runs it: its bundle reader, all its functions, the
// facts as JSON.
type stock struct{ query rego.PreparedEvalQuery }

func newStock(t *testing.T, data []byte) *stock {
	t.Helper()
	b, err := opa.NewReader(bytes.NewReader(data)).Read()
	if err != nil {
		t.Fatal(err)
	}
	q, err := rego.New(rego.ParsedBundle("profile", &b), rego.Query(`{"verdict": data.review.verdict, "outcome": data.review.outcome, "counts": data.review.counts}`)).PrepareForEval(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return &stock{q}
}

func (s *stock) rows(t *testing.T, f *facts.Facts) map[string]row {
	t.Helper()
	text, err := json.Marshal(f)
	if err != nil {
		t.Fatal(err)
	}
	var input any
	d := json.NewDecoder(bytes.NewReader(text))
	d.UseNumber()
	if err := d.Decode(&input); err != nil {
		t.Fatal(err)
	}
	rs, err := s.query.Eval(t.Context(), rego.EvalInput(input))
	if err != nil || len(rs) != 1 {
		t.Fatalf("Eval = %d results, %v", len(rs), err)
	}
	review := rs[0].Expressions[0].Value.(map[string]any)
	out := map[string]row{}
	sums := map[string]int{"pass": 0, "fail": 0, "open": 0, "review": 0}
	verdicts := review["verdict"].(map[string]any)
	for rule, subjects := range review["outcome"].(map[string]any) {
		for id, word := range subjects.(map[string]any) {
			r := row{Outcome: word.(string)}
			sums[r.Outcome]++
			if v, ok := verdicts[rule].(map[string]any)[id].(map[string]any); ok {
				r.Op, r.Measured, r.Limit = v["op"].(string), text1(v["measured"]), text1(v["limit"])
				r.Detail, _ = v["detail"].(string)
			}
			out[rule+" "+id] = r
		}
	}
	for word, n := range sums {
		if got := fmt.Sprint(review["counts"].(map[string]any)[word]); got != fmt.Sprint(n) {
			t.Errorf("counts.%s is %s, want %d", word, got, n)
		}
	}
	return out
}

func text1(v any) string {
	if v == nil {
		return ""
	}
	text, err := json.Marshal(v)
	if err != nil {
		panic(err)
	}
	return string(text)
}

// TestStockOPAJudgesTheSame runs the packed bundle by OPA's own reader and
// evaluator and holds every verdict against the engine's, on every design.
func TestStockOPAJudgesTheSame(t *testing.T) {
	designs := allDesigns(t)
	eng := engine.New(engine.Options{Policies: policies.FS()})
	list, err := eng.Profiles()
	if err != nil {
		t.Fatal(err)
	}
	for _, summary := range list {
		t.Run(summary.ID, func(t *testing.T) {
			t.Parallel()
			s := newStock(t, packed(t, summary.ID))
			p, err := profile.Load(policies.FS(), summary.ID)
			if err != nil {
				t.Fatal(err)
			}
			own, err := policy.Prepare(t.Context(), policies.FS(), p)
			if err != nil {
				t.Fatal(err)
			}
			compared := 0
			for i, name := range slices.Sorted(maps.Keys(designs)) {
				if strings.HasPrefix(name, "fault ") && summary.ID != "chicago" && i%25 != 0 && !*everything {
					continue
				}
				f, review := eng.Facts(engine.Submission{Name: name, Data: designs[name]}, summary.ID)
				if f == nil {
					t.Fatalf("%s: %v %s", name, review.Problems, review.Failure)
				}
				got, want := s.rows(t, f), ownRows(t, own, f)
				if diff := cmp.Diff(want, got); diff != "" {
					t.Errorf("%s (-engine +stock):\n%s", name, diff)
				}
				compared += len(got)
			}
			if compared < 100 {
				t.Errorf("only %d verdicts were compared", compared)
			}
			t.Logf("%d verdicts", compared)
		})
	}
}

// TestStockOPAJudgesRandomDesignsTheSame does so with designs that nobody drew,
// each under one profile after the other; many seeds take in every profile.
func TestStockOPAJudgesRandomDesignsTheSame(t *testing.T) {
	eng := engine.New(engine.Options{Policies: policies.FS()})
	ids := []string{"ipc-2021", "en-12056"}
	if *randomSeeds > 20 {
		list, err := eng.Profiles()
		if err != nil {
			t.Fatal(err)
		}
		ids = nil
		for _, s := range list {
			ids = append(ids, s.ID)
		}
	}
	outcomes := map[string]int{}
	for at, id := range ids {
		p, err := profile.Load(policies.FS(), id)
		if err != nil {
			t.Fatal(err)
		}
		own, err := policy.Prepare(t.Context(), policies.FS(), p)
		if err != nil {
			t.Fatal(err)
		}
		s := newStock(t, packed(t, id))
		for seed := uint64(at); seed < uint64(*randomSeeds); seed += uint64(len(ids)) {
			f, review := eng.Facts(engine.Submission{Name: "random", Data: random.Mixed(seed)}, id)
			if f == nil {
				t.Fatalf("seed %d: %v %s", seed, review.Problems, review.Failure)
			}
			got, want := s.rows(t, f), ownRows(t, own, f)
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("seed %d under %s (-engine +stock):\n%s", seed, id, diff)
			}
			for _, r := range got {
				outcomes[r.Outcome]++
			}
		}
	}
	if len(outcomes) != 4 {
		t.Errorf("only these outcomes were compared: %v", outcomes)
	}
	t.Logf("%v", outcomes)
}

func ownRows(t *testing.T, p *policy.Prepared, f *facts.Facts) map[string]row {
	t.Helper()
	list, err := p.Judge(t.Context(), f)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]row{}
	for _, v := range list {
		out[v.Rule+" "+v.Subject] = row{string(v.Outcome), v.Op, v.Detail, text1(v.Measured), text1(v.Limit)}
	}
	return out
}

// TestStockOPARunsTheTests runs the Rego tests in a bundle as opa test does.
func TestStockOPARunsTheTests(t *testing.T) {
	b, err := opa.NewReader(bytes.NewReader(packed(t, "chicago"))).Read()
	if err != nil {
		t.Fatal(err)
	}
	results, err := tester.NewRunner().SetModules(b.ParsedModules("profile")).RunTests(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	ran := 0
	for r := range results {
		ran++
		if !r.Pass() {
			t.Errorf("%s", r)
		}
	}
	if ran < 300 {
		t.Errorf("only %d tests ran", ran)
	}
}
