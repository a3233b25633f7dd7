package hydraulics

import (
	"math"
	"testing"
)

func segments(t *testing.T, points ...CurvePoint) Curve {
	t.Helper()
	return must(NewCurve(Segments, points))(t)
}

// Unlike pumps on one line, solved by hand: the line asks H = 2 + 100 Q, one
// pump gives 10 - 500 q (H 10 to 0), the other 6 - 500 q. At H = 4: 0.012 and
// 0.004 m3/s, together 0.016, and the line asks 3.6; the sum rule
// (10-H)/500 + (6-H)/500 = (H-2)/100 gives H = 26/7.
func TestUnlikePumpsTogether(t *testing.T) {
	large := segments(t, CurvePoint{0, 10}, CurvePoint{0.02, 0})
	small := segments(t, CurvePoint{0, 6}, CurvePoint{0.012, 0})
	line := func(q float64) (float64, error) { return 100 * q, nil }
	o := must(OperateTogether([]Unit{{Curve: large}, {Curve: small}}, 2, line))(t)
	if math.Abs(o.Head-26.0/7) > 1e-9 || o.Status != Found {
		t.Errorf("head %g (%s), want 26/7", o.Head, o.Status)
	}
	if math.Abs(o.Each[0]-(10-26.0/7)/500) > 1e-9 || math.Abs(o.Each[1]-(6-26.0/7)/500) > 1e-9 {
		t.Errorf("each %v", o.Each)
	}
}

// A strong pump holds the check valve of a weak one shut.
func TestWeakPumpIsHeldShut(t *testing.T) {
	strong := segments(t, CurvePoint{0, 20}, CurvePoint{0.02, 10})
	weak := segments(t, CurvePoint{0, 6}, CurvePoint{0.012, 0})
	line := func(q float64) (float64, error) { return 1000 * q, nil }
	o := must(OperateTogether([]Unit{{Curve: strong}, {Curve: weak}}, 2, line))(t)
	alone := must(OperateTogether([]Unit{{Curve: strong}}, 2, line))(t)
	if o.Each[1] != 0 || math.Abs(o.Flow-alone.Flow) > 1e-9 {
		t.Errorf("each %v, the strong pump alone %g", o.Each, alone.Flow)
	}
}

func TestTogetherWithoutAnAnswer(t *testing.T) {
	c := segments(t, CurvePoint{0, 6}, CurvePoint{0.012, 3})
	if o := must(OperateTogether([]Unit{{Curve: c}, {Curve: c}}, 7, nil))(t); o.Status != NoFlow || o.Flow != 0 {
		t.Errorf("%+v", o)
	}
	if o := must(OperateTogether([]Unit{{Curve: c}, {Curve: c}}, 1, nil))(t); o.Status != BeyondLastPoint || o.Flow != 0.024 {
		t.Errorf("%+v", o)
	}
	jump := func(q float64) (float64, error) {
		if q > 0.005 {
			return 100, nil
		}
		return 0, nil
	}
	if _, err := OperateTogether([]Unit{{Curve: c}}, 1, jump); err == nil {
		t.Error("a line whose loss jumps across the curve gave an answer")
	}
	if _, err := OperateTogether(nil, 1, nil); err == nil {
		t.Error("no pump gave an answer")
	}
}
