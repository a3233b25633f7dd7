package hydraulics

import (
	"encoding/json"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

const referenceFolder = "../../testdata/references/hydraulics"

// referencePipe is a pipe as the reference cases write it.
type referencePipe struct {
	BoreInches float64 `json:"d_in"`
	LengthFeet float64 `json:"L_ft"`
	Friction   string  `json:"friction"`
	C          float64 `json:"C"`
	WallFeet   float64 `json:"eps_ft"`
	K          float64 `json:"K"`
}

func (p referencePipe) pipe(darcy FrictionMethod) Pipe {
	f := Friction{Method: darcy, Roughness: p.WallFeet * foot}
	if p.Friction == "HW" {
		f = Friction{Method: ByHazenWilliams, C: p.C, Form: FormSolver}
	}
	return Pipe{p.BoreInches * inch, p.LengthFeet * foot, p.K, f}
}

// referenceCase is the union of the inputs of all kinds.
type referenceCase struct {
	ID   string `json:"id"`
	Kind string `json:"kind"`
	referencePipe
	FlowGPM    float64       `json:"q_gpm"`
	BoreMM     float64       `json:"d_mm"`
	FlowLPS    float64       `json:"q_lps"`
	LengthM    float64       `json:"L_m"`
	Slope      float64       `json:"slope"`
	N          float64       `json:"n"`
	PumpCurve  [][2]float64  `json:"pump_curve"`
	CurveModel string        `json:"curve_model"`
	StaticFeet float64       `json:"static_ft"`
	Pipe       referencePipe `json:"pipe"`
	Branch     referencePipe `json:"branch"`
	Pumps      int           `json:"pumps"`

	BasinInches    float64 `json:"basin_d_in"`
	DrawdownInches float64 `json:"drawdown_in"`
	PumpGPM        float64 `json:"pump_gpm"`
	InflowGPM      float64 `json:"inflow_gpm"`
	MainInches     float64 `json:"forcemain_d_in"`
	DrainFeet      float64 `json:"drainback_len_ft"`
	BasinM         float64 `json:"basin_d_m"`
	DrawdownM      float64 `json:"drawdown_m"`
	PumpLPS        float64 `json:"pump_lps"`
	InflowLPS      float64 `json:"inflow_lps"`
	MainMM         float64 `json:"forcemain_d_mm"`
	DrainM         float64 `json:"drainback_len_m"`

	OutsideInches float64 `json:"basin_od_in"`
	HeightInches  float64 `json:"basin_h_in"`
	CoverFeet     float64 `json:"cover_ft"`
	WeightPounds  float64 `json:"basin_weight_lb"`
	SlabInches    float64 `json:"slab_d_in"`
	SlabThick     float64 `json:"slab_t_in"`
	ConcretePCF   float64 `json:"gamma_concrete_pcf"`
	SoakedPCF     float64 `json:"gamma_sat_pcf"`
	MoistPCF      float64 `json:"gamma_moist_pcf"`
	WaterPCF      float64 `json:"gamma_w_pcf"`
	GroundFeet    float64 `json:"gw_depth_below_grade_ft"`

	FixtureUnits float64   `json:"fixture_units"`
	SupplyKind   string    `json:"system"`
	Units        []float64 `json:"du"`

	Result referenceResult `json:"result"`
}

// referenceResult reads numbers by path: "check.friction_ft".
type referenceResult map[string]any

func (r referenceResult) number(t *testing.T, path string) float64 {
	t.Helper()
	var at any = map[string]any(r)
	for part := range strings.SplitSeq(path, ".") {
		m, ok := at.(map[string]any)
		if !ok {
			t.Fatalf("reference has no %q", path)
		}
		at = m[part]
	}
	v, ok := at.(float64)
	if !ok {
		t.Fatalf("reference %q is %v, want a number", path, at)
	}
	return v
}

// replay compares numbers of one case and keeps the worst deviations.
type replay struct {
	*testing.T
	result     referenceResult
	compared   int
	worst      float64 // relative, with the constants of the reference
	worstOther float64 // relative, with other published constants
}

// same compares a number computed with the constants of the reference.
func (r *replay) same(path string, got, tolerance float64) {
	r.Helper()
	r.worst = math.Max(r.worst, r.compare(path, got, tolerance))
}

// other compares a number computed with other published constants.
func (r *replay) other(path string, got, tolerance float64) {
	r.Helper()
	r.worstOther = math.Max(r.worstOther, r.compare(path, got, tolerance))
}

func (r *replay) compare(path string, got, tolerance float64) float64 {
	r.Helper()
	want := r.result.number(r.T, path)
	r.compared++
	deviation := math.Abs(got - want)
	if want != 0 {
		deviation /= math.Abs(want)
	}
	if !(deviation <= tolerance) {
		r.Errorf("%s = %.8g, want %.8g within %g (off by %.3g)", path, got, want, tolerance, deviation)
	}
	return deviation
}

func (r *replay) tolerance(key string) float64 {
	r.Helper()
	if key == "" {
		return r.result.number(r.T, "tol_rel")
	}
	return r.result.number(r.T, "tol_rel."+key)
}

// must is for results that a test goes on with: must(f(x))(t).
func must[T any](v T, err error) func(testing.TB) T {
	return func(t testing.TB) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func readReference(t *testing.T, file string) []referenceCase {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(referenceFolder, file))
	if err != nil {
		t.Fatal(err)
	}
	var set struct {
		Cases []referenceCase `json:"cases"`
	}
	if err := json.Unmarshal(text, &set); err != nil {
		t.Fatal(err)
	}
	return set.Cases
}

// TestReference replays every reference case. Source and tolerances:
// testdata/references/hydraulics/ORIGIN.md.
func TestReference(t *testing.T) {
	want := map[string]int{
		"headloss-hw": 14, "headloss-dw": 8, "headloss-hw-si": 3, "oppoint": 9, "oppoint-2pumps": 2, "manning": 24,
		"manning-si": 3, "basin": 4, "basin-si": 2, "buoyancy": 4, "hunter": 5, "en12056": 3,
	}
	count, numbers := map[string]int{}, map[string]int{}
	worst, worstOther := map[string]float64{}, map[string]float64{}
	cases := readReference(t, "expected.json")
	for _, c := range cases {
		t.Run(c.ID, func(t *testing.T) {
			r := &replay{T: t, result: c.Result}
			replayCase(r, c)
			if r.compared == 0 {
				t.Error("nothing was compared")
			}
			count[c.Kind]++
			numbers[c.Kind] += r.compared
			worst[c.Kind] = math.Max(worst[c.Kind], r.worst)
			worstOther[c.Kind] = math.Max(worstOther[c.Kind], r.worstOther)
		})
	}
	if len(cases) != 81 {
		t.Errorf("%d reference cases, want 81", len(cases))
	}
	for _, kind := range slices.Sorted(maps.Keys(want)) {
		if count[kind] != want[kind] {
			t.Errorf("%d cases of kind %s, want %d", count[kind], kind, want[kind])
		}
		t.Logf("%-15s %3d cases %4d numbers, worst relative deviation %.1e, with other constants %.1e",
			kind, count[kind], numbers[kind], worst[kind], worstOther[kind])
	}
}

func replayCase(r *replay, c referenceCase) {
	switch c.Kind {
	case "headloss-hw":
		replayHazenWilliams(r, c)
	case "headloss-dw":
		replayDarcy(r, c)
	case "headloss-hw-si":
		replayHazenWilliamsSI(r, c)
	case "oppoint", "oppoint-2pumps":
		replayOperatingPoint(r, c)
	case "manning", "manning-si":
		replayManning(r, c)
	case "basin", "basin-si":
		replayBasin(r, c)
	case "buoyancy":
		replayBuoyancy(r, c)
	case "hunter":
		replayDemand(r, c)
	case "en12056":
		replayDischargeUnits(r, c)
	default:
		r.Fatalf("unknown kind %q", c.Kind)
	}
}
