package hydraulics

import (
	"errors"
	"math"
	"testing"
)

func testCurve(t testing.TB) Curve {
	return must(NewCurve(Segments, []CurvePoint{{0, 8}, {0.002, 6}, {0.004, 2}}))(t)
}

func TestOperatingStatus(t *testing.T) {
	curve := testCurve(t)
	late := must(NewCurve(Segments, []CurvePoint{{0.001, 7}, {0.004, 2}}))(t)
	quadratic := func(flow float64) (float64, error) { return 1e6 * flow * flow, nil }
	for _, c := range []struct {
		name         string
		curve        Curve
		static       float64
		loss         LossFunc
		pumps        int
		want         OperatingStatus
		flow, head   float64
		systemBeyond bool // the system asks more than the pump gives
	}{
		{"static equals shut-off head", curve, 8, quadratic, 1, NoFlow, 0, 8, false},
		{"static above shut-off head", curve, 9, quadratic, 1, NoFlow, 0, 8, true},
		{"system under the last point", curve, 1, nil, 1, BeyondLastPoint, 0.004, 2, false},
		{"two pumps under the last point", curve, 1, nil, 2, BeyondLastPoint, 0.008, 2, false},
		{"discharge below the basin", curve, -5, nil, 1, BeyondLastPoint, 0.004, 2, false},
		{"system over the first point", late, 7.5, nil, 1, BeforeFirstPoint, 0.001, 7, true},
		{"on the first point", late, 7, nil, 1, Found, 0.001, 7, false},
		{"on a point", curve, 6, nil, 1, Found, 0.002, 6, false},
		{"on the last point", curve, 2, nil, 1, Found, 0.004, 2, false},
		{"between points", curve, 4, nil, 1, Found, 0.003, 4, false},
		{"between points, three pumps", curve, 4, nil, 3, Found, 0.009, 4, false},
	} {
		o, err := OperatingPoint(c.curve, System{StaticHead: c.static, Common: c.loss}, c.pumps)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if o.Status != c.want || math.Abs(o.Flow-c.flow) > 1e-9 || math.Abs(o.Head-c.head) > 1e-6 {
			t.Errorf("%s: %+v, want %s at %g m3/s, %g m", c.name, o, c.want, c.flow, c.head)
		}
		if beyond := o.SystemHead > o.Head+1e-9; beyond != c.systemBeyond {
			t.Errorf("%s: system asks %g, pump gives %g", c.name, o.SystemHead, o.Head)
		}
	}
}

func TestCurvesRefused(t *testing.T) {
	for _, c := range []struct {
		name          string
		interpolation Interpolation
		points        []CurvePoint
	}{
		{"no points", Segments, nil},
		{"one point", Segments, []CurvePoint{{0, 8}}},
		{"level head", Segments, []CurvePoint{{0, 8}, {1, 8}}},
		{"rising head", Segments, []CurvePoint{{0, 8}, {1, 9}}},
		{"flow twice", Segments, []CurvePoint{{1, 8}, {1, 7}}},
		{"negative flow", Segments, []CurvePoint{{-1, 8}, {1, 7}}},
		{"negative head", Segments, []CurvePoint{{0, 8}, {1, -1}}},
		{"not a number", Segments, []CurvePoint{{0, math.NaN()}, {1, 7}}},
		{"infinite", Segments, []CurvePoint{{0, 8}, {math.Inf(1), 7}}},
		{"unknown interpolation", "spline", []CurvePoint{{0, 8}, {1, 7}}},
		{"power law through two points", ThreePoint, []CurvePoint{{0, 8}, {1, 7}}},
		{"power law that does not start at rest", ThreePoint, []CurvePoint{{0.1, 8}, {1, 7}, {2, 3}}},
		{"power law too steep", ThreePoint, []CurvePoint{{0, 8}, {1, 7.999999}, {1.1, 3}}},
	} {
		var bad *InputError
		if _, err := NewCurve(c.interpolation, c.points); !errors.As(err, &bad) {
			t.Errorf("%s: %v, want an input error", c.name, err)
		}
	}
	var outside *RangeError
	if _, err := testCurve(t).HeadAt(0.0041); !errors.As(err, &outside) || outside.High != 0.004 {
		t.Errorf("past the last point: %v, want a range error up to 0.004", err)
	}
	if _, err := (Curve{}).HeadAt(0); err == nil {
		t.Error("an empty curve has a head")
	}
	if _, err := OperatingPoint(Curve{}, System{}, 1); err == nil {
		t.Error("an empty curve has an operating point")
	}
}

// TestThreePointPassesThroughItsPoints and lies above the chords: the power
// law of a drooping curve is concave.
func TestThreePointPassesThroughItsPoints(t *testing.T) {
	points := []CurvePoint{{0, 12}, {0.002, 10}, {0.004, 4}}
	law, chords := must(NewCurve(ThreePoint, points))(t), must(NewCurve(Segments, points))(t)
	for _, p := range points {
		if got := must(law.HeadAt(p.Flow))(t); math.Abs(got-p.Head) > 1e-12 {
			t.Errorf("head %g at %g, want %g", got, p.Flow, p.Head)
		}
	}
	for _, q := range []float64{0.001, 0.003} {
		if a, b := must(law.HeadAt(q))(t), must(chords.HeadAt(q))(t); !(a > b) {
			t.Errorf("at %g the law gives %g, the chord %g", q, a, b)
		}
	}
}

func TestNonConvergenceCarriesNumbers(t *testing.T) {
	step := func(flow float64) (float64, error) { // a loss that jumps across the curve
		if flow < 0.0015 {
			return 0, nil
		}
		return 50, nil
	}
	var stuck *ConvergenceError
	_, err := OperatingPoint(testCurve(t), System{StaticHead: 1, Common: step}, 1)
	if !errors.As(err, &stuck) || math.Abs(stuck.Residual) < 5 || stuck.Iterations == 0 {
		t.Errorf("jumping loss: %v, want a convergence error with what is left", err)
	}
	line := func(x float64) (float64, error) { return x - 0.3, nil }
	if _, _, err = bisect("test", line, 0, 1, 1e-12, 3); !errors.As(err, &stuck) || stuck.Iterations != 3 || !(stuck.Low < 0.3 && 0.3 < stuck.High) {
		t.Errorf("three steps: %v, want a convergence error that brackets 0.3", err)
	}
	if _, _, err = colebrook(1e5, 1e-4, 1); !errors.As(err, &stuck) || stuck.Residual == 0 {
		t.Errorf("one Colebrook step: %v, want a convergence error", err)
	}
	sick := func(flow float64) (float64, error) { return math.NaN(), nil }
	if _, err := OperatingPoint(testCurve(t), System{StaticHead: 1, Common: sick}, 1); err == nil {
		t.Error("a loss that is not a number gave an operating point")
	}
	broken := errors.New("broken")
	failing := func(flow float64) (float64, error) { return 0, broken }
	if _, err := OperatingPoint(testCurve(t), System{Common: failing}, 1); !errors.Is(err, broken) {
		t.Errorf("a failing loss gave %v", err)
	}
}

// FuzzOperatingPoint: whatever the numbers, an answer or an error, within a
// bounded number of steps, and nothing that is not finite.
func FuzzOperatingPoint(f *testing.F) {
	f.Add(0.0, 8.0, 0.002, 6.0, 0.004, 2.0, 3.0, 0.0525, 12.0, 150.0, 6.3, uint8(1), uint8(0))
	f.Add(0.0, 12.2, 0.0025, 10.0, 0.005, 4.3, 4.6, 0.0627, 61.0, 1e-6, 7.5, uint8(2), uint8(4))
	f.Add(0.001, 1e300, 0.002, 1.0, 0.004, 0.0, -1e300, 1e-300, 1e300, 1e-300, 1e300, uint8(99), uint8(3))
	f.Add(0.0, 8.0, 5e-324, 7.0, 1e308, 0.0, 7.9999999, 0.05, 1.0, 0.0, 0.0, uint8(1), uint8(5))
	f.Fuzz(func(t *testing.T, q0, h0, q1, h1, q2, h2, static, bore, length, rough, k float64, pumps, choice uint8) {
		interpolation := []Interpolation{Segments, ThreePoint}[choice/3%2]
		curve, err := NewCurve(interpolation, []CurvePoint{{q0, h0}, {q1, h1}, {q2, h2}})
		if err != nil {
			return
		}
		method := []FrictionMethod{ByHazenWilliams, BySwameeJain, ByColebrook}[choice%3]
		evaluations := 0
		line := Pipeline(WaterAt20C(), Pipe{bore, length, k, Friction{method, rough, FormSolver, rough}})
		counted := func(flow float64) (float64, error) { evaluations++; return line(flow) }
		o, err := OperatingPoint(curve, System{StaticHead: static, Branch: line, Common: counted}, int(pumps))
		if evaluations > bisectionLimit+5 {
			t.Fatalf("%d evaluations of the loss", evaluations)
		}
		if err != nil {
			return
		}
		for _, v := range []float64{o.Flow, o.PerPump, o.Head, o.SystemHead} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("%+v is not finite", o)
			}
		}
		if o.PerPump < curve.First().Flow && o.Status != NoFlow || o.PerPump > curve.Last().Flow {
			t.Fatalf("%+v lies outside the curve", o)
		}
	})
}
