package calcs_test

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"backpitch/engine"
	"backpitch/engine/calcs"
	"backpitch/engine/quantity"
	"backpitch/policies"
)

var eng = engine.New(engine.Options{Policies: policies.FS()})

func sheetOf(t *testing.T, name, profile string, edit ...string) (*calcs.Sheet, quantity.System) {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "designs", name))
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	for i := 0; i+1 < len(edit); i += 2 {
		if !strings.Contains(text, edit[i]) {
			t.Fatalf("%s has no %q", name, edit[i])
		}
		text = strings.Replace(text, edit[i], edit[i+1], 1)
	}
	w := eng.Work(context.Background(), engine.Submission{Name: name, Data: []byte(text)}, profile)
	s := w.Sheet()
	if s == nil {
		t.Fatalf("no sheet: %v %v", w.Review.Failure, w.Review.Problems)
	}
	return s, w.Units
}

// Changes to the demo that bring in the formulas it does not use.
var (
	intermittent = []string{`"mean_inflow": "0.15 gpm"`, `"mean_inflow": "0.15 gpm", "fixture_use": "intermittent"`}
	threePoint   = []string{ // a smooth curve, and Darcy-Weisbach
		`{ "flow": "20 gpm", "head": "15.5 ft" }, `, "",
		`"curve_model": "segments"`, `"curve_model": "three_point", "friction_method": "darcy_weisbach"`,
	}
	weak = []string{ // one pump that does not keep up
		`{ "flow": "0 gpm", "head": "18 ft" }, { "flow": "20 gpm", "head": "15.5 ft" }, { "flow": "40 gpm", "head": "11.5 ft" }, { "flow": "60 gpm", "head": "5.5 ft" }`,
		`{ "flow": "0 gpm", "head": "12 ft" }, { "flow": "15 gpm", "head": "5.5 ft" }`,
	}
	continuous = []string{`"kind": "sink", "use": "private"`, `"kind": "other", "load": "0.5 dfu", "flow": "2 gpm"`}
	valves     = []string{`"predominantly_flush_valves": false`, `"predominantly_flush_valves": true`} // a curve that begins at a higher load
	box        = []string{`"shape": "round", "diameter": "30 in", "outside_diameter": "31 in"`, `"shape": "rectangular", "plan_length": "36 in", "plan_width": "24 in"`}
	twoPumps   = []string{
		`"from": "pump", "to": "house-drain", "size": "2 in"`, `"from": "meeting", "to": "house-drain", "size": "2 in"`,
		`{ "id": "discharge",`, `{ "id": "left", "service": "pumped", "from": "pump", "to": "meeting", "size": "2 in", "material": "pvc_sch40", "length": "3 ft" },
    { "id": "right", "service": "pumped", "from": "pump-2", "to": "meeting", "size": "2 in", "material": "pvc_sch40", "length": "4 ft" },
    { "id": "discharge",`,
		`{ "id": "vj-drain", "fitting": "vent_tee" }`, `{ "id": "vj-drain", "fitting": "vent_tee" }, { "id": "meeting", "fitting": "wye" }`,
		`"cord_length": "15 ft", "max_starts_per_hour": 20, "min_run_time": "20 s" }`, `"cord_length": "15 ft", "max_starts_per_hour": 20, "min_run_time": "20 s" },
    { "id": "pump-2", "basin": "basin", "kind": "solids_handling", "duty": "duty", "curve": [ { "flow": "0 gpm", "head": "17 ft" }, { "flow": "50 gpm", "head": "6 ft" } ] }`,
	}
)

// A reviewer with a pocket calculator gets every printed result from the
// printed numbers. What may differ is the rounding of what is printed: each
// number put in is off by half its last digit at most, and so is the result.
func TestPrintedResultsFollowFromPrintedNumbers(t *testing.T) {
	used := map[string]bool{}
	for _, c := range []struct {
		name, design, profile string
		edit                  []string
	}{
		{"demo", "pottery-studio.json", "ipc-2021", nil},
		{"demo in SI", "pottery-studio.json", "en-12056", intermittent},
		{"smooth curve", "pottery-studio.json", "ipc-2021", threePoint},
		{"smooth curve in SI", "pottery-studio.json", "en-12056", append(threePoint, intermittent...)},
		{"flawed", "pottery-studio-flawed.json", "ipc-2021", nil},
		{"weak pump", "pottery-studio.json", "ipc-2021", weak},
		{"continuous flow", "pottery-studio.json", "ipc-2021", continuous},
		{"flush valves", "pottery-studio.json", "ipc-2021", valves},
		{"box", "pottery-studio.json", "en-12056", append(box, intermittent...)},
		{"two pumps", "pottery-studio.json", "ipc-2021", twoPumps},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, units := sheetOf(t, c.design, c.profile, c.edit...)
			expressions := map[string]string{}
			for _, f := range s.Formulas {
				expressions[f.ID] = f.Expression
			}
			for _, step := range s.Steps {
				used[step.Formula] = true
				checkStep(t, step, expressions[step.Formula], units)
			}
			if len(s.Steps) < 50 {
				t.Errorf("%d steps", len(s.Steps))
			}
		})
	}
	for _, id := range calcs.Formulas() {
		if !used[id] {
			t.Errorf("no sheet of these designs uses formula %s", id)
		}
	}
}

func checkStep(t *testing.T, s calcs.Step, expression string, units quantity.System) {
	t.Helper()
	printed, err := strconv.ParseFloat(s.Result, 64)
	if err != nil {
		t.Fatalf("%s of %s: result %q", s.Formula, s.Subject, s.Result)
	}
	got, err := evaluate(s.Substituted, nil)
	if err != nil {
		t.Fatal(err)
	}
	values := map[string]float64{}
	for _, in := range s.Inputs {
		values[in.Symbol], _ = strconv.ParseFloat(in.Value, 64)
	}
	if again, err := evaluate(expression, values); err != nil || math.Abs(again-got) > 1e-9*math.Max(1, math.Abs(got)) {
		t.Errorf("%s of %s: %s gives %g, substituted %s gives %g (%v)", s.Formula, s.Subject, expression, again, s.Substituted, got, err)
	}
	allowed := calcs.Half(s.Formula, "", s.Result, units) + 2e-5*math.Abs(printed)
	for _, in := range s.Inputs {
		half, worst := calcs.Half(s.Formula, in.Symbol, in.Value, units), 0.0
		for _, sign := range []float64{-1, 1} {
			values[in.Symbol] += sign * half
			if x, err := evaluate(expression, values); err == nil && !math.IsNaN(x) {
				worst = math.Max(worst, math.Abs(x-got))
			}
			values[in.Symbol] -= sign * half
		}
		allowed += worst
	}
	if math.IsNaN(got) || math.Abs(got-printed) > 1.1*allowed {
		t.Errorf("%s of %s: %s is %g, printed %s, apart by more than rounding (%g)", s.Formula, s.Subject, s.Substituted, got, s.Result, allowed)
	}
}

// The check above must be able to fail: a result off by one digit in the third
// place is found.
func TestRecomputationFindsAWrongResult(t *testing.T) {
	s, units := sheetOf(t, "pottery-studio.json", "ipc-2021")
	i := slices.IndexFunc(s.Steps, func(x calcs.Step) bool { return x.Formula == "hazen_williams" })
	step := s.Steps[i]
	x, _ := strconv.ParseFloat(step.Result, 64)
	step.Result = strconv.FormatFloat(x*1.01, 'f', 4, 64)
	var inner testing.T
	done := make(chan bool)
	go func() { // Fatal ends the goroutine it runs in
		defer close(done)
		checkStep(&inner, step, calcs.Expression("hazen_williams", units), units)
	}()
	<-done
	if !inner.Failed() {
		t.Error("a result one per cent off passed")
	}
}

// Every name in an expression is a symbol of the legend or a function, in both
// systems of units, and every symbol is used.
func TestFormulasAreLegended(t *testing.T) {
	name := regexp.MustCompile(`[A-Za-z][A-Za-z0-9]*`)
	functions := []string{"sqrt", "log10", "ln", "sin", "acos", "max", "pi"}
	for _, id := range calcs.Formulas() {
		for _, units := range []quantity.System{quantity.US, quantity.SI} {
			found := name.FindAllString(calcs.Expression(id, units), -1)
			for _, n := range found {
				if !slices.Contains(functions, n) && !slices.Contains(calcs.Symbols(id), n) {
					t.Errorf("%s: %s has no legend", id, n)
				}
			}
			for _, n := range calcs.Symbols(id) {
				if !slices.Contains(found, n) {
					t.Errorf("%s: %s is in the legend and not in the formula", id, n)
				}
			}
		}
	}
}

// Each result that a rule judges names the rule, its section and its outcome.
func TestResultsNameWhatTheyAreJudgedBy(t *testing.T) {
	s, _ := sheetOf(t, "pottery-studio.json", "ipc-2021")
	want := map[string]string{
		"run_time": "pump/runs_too_short", "rate": "pump/rate_too_low", "starts_per_hour": "pump/starts_too_often",
		"hold_time": "basin/holds_too_long", "flotation_factor": "basin/floats", "total_load": "discharge/overloads_receiver", "velocity": "discharge/velocity_out_of_range",
	}
	for _, step := range s.Steps {
		for _, j := range step.Judged {
			if j.Rule == want[step.Fact] && j.Section != "" && j.Outcome != "" && j.Limit != "" {
				delete(want, step.Fact)
			}
		}
	}
	if len(want) > 0 {
		t.Errorf("not judged: %v", want)
	}
}

func TestSheetIsTheSameEveryTime(t *testing.T) {
	a, _ := sheetOf(t, "pottery-studio-flawed.json", "ipc-2021")
	b, _ := sheetOf(t, "pottery-studio-flawed.json", "ipc-2021")
	if len(a.Steps) != len(b.Steps) {
		t.Fatal("different sheets")
	}
	for i := range a.Steps {
		if a.Steps[i].Substituted != b.Steps[i].Substituted || a.Steps[i].Result != b.Steps[i].Result {
			t.Errorf("step %d differs", i)
		}
	}
}
