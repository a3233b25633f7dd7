package facts

import (
	"strings"

	"backpitch/engine/calcs"
	"backpitch/engine/design"
	"backpitch/engine/hydraulics"
)

// cycle is how often and how long a pump runs: starts at the inflow that
// starts it most often, run time from start to stop with no inflow. What runs
// back from the line counts.
func (v *derivation) cycle(x *pump, b *design.Basin, o *Pump) {
	volume, ok := drawdown(b)
	if !ok || volume <= 0 {
		return
	}
	drained, _ := v.drainBack(x)
	if drained == nil {
		return
	}
	back := *drained
	var starts, runs spread
	for end, r := range x.rate {
		if r == nil || *r <= 0 {
			continue
		}
		rate := float64(*r) / flowScale
		runs[end] = toFixed(volume/rate, durationScale)
		c, err := hydraulics.Duty{Volume: volume, DrainBack: back, PumpRate: rate}.Worst()
		if err == nil && c.Status == hydraulics.Cycling {
			starts[end] = toFixed(c.StartsPerHour, factorScale)
		}
	}
	if runs[lowEnd] == nil { // at its low end it delivers nothing: no number bounds the run
		return
	}
	o.RunTimeLow, o.RunTime, o.RunTimeHigh = runs[highEnd], runs[expected], runs[lowEnd]
	o.StartsLow, o.Starts, o.StartsHigh = starts[lowEnd], starts[expected], starts[highEnd]
	if v.rec == nil || runs[expected] == nil {
		return
	}
	rate := float64(*x.rate[expected]) / flowScale
	v.rec.Step(calcs.Raw{Formula: "run_time", Subject: o.ID, Fact: "run_time", Values: []float64{volume, rate}, Result: volume / rate,
		Low: asSI(o.RunTimeLow, durationScale), High: asSI(o.RunTimeHigh, durationScale)})
	if starts[expected] != nil {
		v.rec.Step(calcs.Raw{Formula: "starts_per_hour", Subject: o.ID, Fact: "starts_per_hour", Values: []float64{rate, volume, back},
			Result: float64(*starts[expected]) / factorScale, Low: asSI(o.StartsLow, factorScale), High: asSI(o.StartsHigh, factorScale)})
	}
}

// asSI is a fact in SI units again.
func asSI(n *int64, scale float64) *float64 {
	if n == nil {
		return nil
	}
	return ptr(float64(*n) / scale)
}

// drainBack is what runs back to the basin when the pump stops, in m3: the pipe
// up to the check valve where its place is stated (else the valve is taken to
// stand at the pump, common practice), or the whole line where there is none.
// Held is what stays above the check valve. Nil is not known.
func (v *derivation) drainBack(x *pump) (back, held *float64) {
	below, above := new(float64), new(float64)
	checked := false
	for _, e := range x.line {
		q := &v.pipes[e]
		at, here := q.checkValve()
		part, whole := q.content(q.length), q.content(q.length)
		switch {
		case checked:
			part = ptr(0.0)
		case here && at <= 0:
			part, checked = ptr(0.0), true
		case here:
			part, checked = q.content(min(at, q.length)), true
		}
		below, above = sum(below, part, 1), sum(sum(above, whole, 1), part, -1)
	}
	if len(x.line) == 0 {
		return nil, nil
	}
	if below == nil && checked {
		below = ptr(0.0)
	}
	return below, above
}

// sum adds two volumes, nil where either is.
func sum(a, b *float64, sign float64) *float64 {
	if a == nil || b == nil {
		return nil
	}
	return ptr(*a + sign**b)
}

// checkValve says whether the pipe has a check valve, and where, in nanometres.
func (q *pipe) checkValve() (at int64, here bool) {
	for i := range q.p.Devices {
		if d := &q.p.Devices[i]; d.Kind == "check_valve" {
			return nanometres(d.At), true
		}
	}
	return unknown, false
}

// content is the water in a length of the pipe, nil where it is not known.
func (q *pipe) content(length int64) *float64 {
	bore, ok := q.bore()
	if !ok || length < 0 {
		return nil
	}
	volume, err := hydraulics.PipeVolume(bore, float64(length)/1e9)
	if err != nil {
		return nil
	}
	return &volume
}

// vessel is the basin by its plan, false where it is not stated.
func vessel(b *design.Basin) (hydraulics.Vessel, bool) {
	if strings.HasPrefix(b.Shape, "rect") {
		l, w := b.PlanLength.SI(), b.PlanWidth.SI()
		return hydraulics.Rectangular{Length: l, Width: w}, l > 0 && w > 0
	}
	d := b.Diameter.SI()
	return hydraulics.Round{Diameter: d}, d > 0
}

// between is the volume of a basin between two stated levels.
func between(b *design.Basin, low, high *rat) (float64, bool) {
	ves, ok := vessel(b)
	if !ok || low == nil || high == nil {
		return 0, false
	}
	l, _ := low.Float64()
	h, _ := high.Float64()
	volume, err := hydraulics.VolumeBetween(ves, l, h)
	return volume, err == nil
}

func drawdown(b *design.Basin) (float64, bool) {
	if b.Levels == nil {
		return 0, false
	}
	return between(b, metres(b.Levels.Stop), metres(b.Levels.Start))
}
