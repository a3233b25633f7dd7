package facts

import (
	"fmt"

	"backpitch/engine/design"
	"backpitch/engine/hydraulics"
)

// operate finds where a pump runs against its line alone, at each end. Without
// a curve, or where the line is not known well enough, the stated rate stands,
// as an exact one.
func (v *derivation) operate(x *pump) {
	if r := x.p.Rate.Fixed(); r > 0 && r <= mostFlow {
		x.rate, x.rateBasis = exactly(&r), "stated"
	}
	curves, ok := v.pumpCurves(x.p)
	if !ok {
		return
	}
	if first := curves[expected].First(); first.Flow == 0 {
		x.shutOff = toFixed(first.Head, lengthScale)
	}
	x.method = v.frictionMethod(x.p)
	lines, ok := v.pipeline(x.line, x.method, true)
	if !ok || x.static == nil || len(x.line) == 0 {
		v.rec.Gap(x.p.ID, "operating point", "size, material or length of its line, or the elevations of its lift, are not stated")
		return
	}
	static, _ := x.static.Float64()
	var found [ends]hydraulics.Operation
	for end := range ends {
		system := hydraulics.System{StaticHead: static, Common: hydraulics.Pipeline(hydraulics.WaterAt20C(), lines[end]...)}
		op, err := hydraulics.OperatingPoint(curves[end], system, 1)
		if err != nil {
			v.notComputed(x.p.Position, fmt.Sprintf("pump %q", x.p.ID), "operating point", err)
			x.rate, x.rateBasis = spread{}, ""
			return
		}
		found[end] = op
	}
	x.rate, x.rateBasis = spread{}, ""
	x.cannot, x.beyond = meets(found[expected])
	x.mayNotLift, _ = meets(found[lowEnd])
	_, x.mayExceed = meets(found[highEnd])
	for end, op := range found {
		switch op.Status {
		case hydraulics.Found:
			x.rate[end] = toFixed(op.Flow, flowScale)
		case hydraulics.BeyondLastPoint: // the rate is at least that of the last point
			x.rate[end] = toFixed(op.Flow, flowScale)
		case hydraulics.NoFlow:
			x.rate[end] = ptr(int64(0))
		}
	}
	switch op := found[expected]; op.Status {
	case hydraulics.Found:
		x.head = toFixed(op.Head, lengthScale)
		x.rateBasis = "operating_point"
	case hydraulics.BeyondLastPoint:
		x.rateBasis = "operating_point"
	default:
		x.rate = spread{}
	}
	if x.rate[lowEnd] == nil || x.rate[highEnd] == nil { // it runs before the first stated point: less than that
		x.rate = spread{}
	}
	v.recordOperation(x, curves, lines, static, found)
}

// meets says how the curves fail to meet, nil where neither is known.
func meets(o hydraulics.Operation) (cannot, beyond *bool) {
	switch o.Status {
	case hydraulics.Found:
		return ptr(false), ptr(false)
	case hydraulics.BeyondLastPoint:
		return ptr(false), ptr(true)
	case hydraulics.NoFlow:
		return ptr(true), ptr(false)
	}
	return nil, nil
}

// pumpCurves is the curve of a pump at each end of its tolerance, which is a
// part of the head. A tolerance that leaves no head leaves the stated curve.
func (v *derivation) pumpCurves(p *design.Pump) (curves [ends]hydraulics.Curve, ok bool) {
	if len(p.Curve) == 0 {
		return curves, false
	}
	how := hydraulics.Segments
	if p.CurveModel == "three_point" {
		how = hydraulics.ThreePoint
	}
	tolerance := 0.0
	if p.Tolerance != nil && *p.Tolerance > 0 && *p.Tolerance < 100 {
		tolerance = *p.Tolerance / 100
	}
	for end, part := range [ends]float64{1 - tolerance, 1, 1 + tolerance} {
		points := make([]hydraulics.CurvePoint, len(p.Curve))
		for i := range p.Curve {
			points[i] = hydraulics.CurvePoint{Flow: p.Curve[i].Flow.SI(), Head: p.Curve[i].Head.SI() * part}
		}
		curve, err := hydraulics.NewCurve(how, points)
		if err != nil {
			v.notComputed(p.Position, fmt.Sprintf("pump %q", p.ID), "pump curve", err)
			return curves, false
		}
		curves[end] = curve
	}
	return curves, true
}

// notComputed reports a formula that cannot take the numbers of the design, or
// that found no answer; the numbers stand in the error.
func (v *derivation) notComputed(at design.Position, subject, what string, err error) {
	v.problem(at, "not_computed", fmt.Sprintf("%s: %s: %v", subject, what, err), "")
}
