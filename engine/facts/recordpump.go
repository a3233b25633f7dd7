package facts

import (
	"math"

	"backpitch/engine/calcs"
	"backpitch/engine/hydraulics"
)

// samples is into how many parts a system curve is cut for the chart.
const samples = 24

// recordOperation writes down the heads of a pump and its line: the chart, the
// loss of every pipe at the operating point, and how they add up.
func (v *derivation) recordOperation(x *pump, curves [ends]hydraulics.Curve, lines [ends][]hydraulics.Pipe, static float64, found [ends]hydraulics.Operation) {
	if v.rec == nil {
		return
	}
	water := hydraulics.WaterAt20C()
	chart := calcs.Pump{ID: x.p.ID, Model: "segments", Static: static, Friction: x.method}
	if x.p.CurveModel == "three_point" {
		chart.Model = "three_point"
	}
	if x.p.Tolerance != nil {
		chart.Tolerance = *x.p.Tolerance
	}
	for i := range x.p.Curve {
		chart.Curve = append(chart.Curve, calcs.Point{Flow: x.p.Curve[i].Flow.SI(), Head: x.p.Curve[i].Head.SI()})
	}
	last := curves[expected].Last().Flow
	for end := range ends {
		loss := hydraulics.Pipeline(water, lines[end]...)
		chart.Operating[end] = calcs.Operating{Status: string(found[end].Status), At: calcs.Point{Flow: found[end].Flow, Head: found[end].Head}}
		for i := range samples + 1 {
			q := last * float64(i) / samples
			if h, err := loss(q); err == nil {
				chart.System[end] = append(chart.System[end], calcs.Point{Flow: q, Head: static + h})
			}
		}
	}
	v.rec.Pumps = append(v.rec.Pumps, chart)
	high, _ := x.high.Float64()
	stop, _ := x.stop.Float64()
	v.rec.Step(calcs.Raw{Formula: "static_head", Subject: x.p.ID, Fact: "static_head", Values: []float64{high, stop}, Result: static})
	op := found[expected]
	if op.Status != hydraulics.Found {
		v.rec.Gap(x.p.ID, "operating point", string(op.Status))
		return
	}
	v.recordLosses(x, lines[expected], op, static)
	if chart.Model == "segments" {
		v.recordSegment(x, op)
	} else {
		v.recordPower(x, op)
	}
}

// recordLosses: velocity, friction and fittings of each pipe, then the sum.
func (v *derivation) recordLosses(x *pump, line []hydraulics.Pipe, op hydraulics.Operation, static float64) {
	friction, minor := 0.0, 0.0
	for i, p := range line {
		id := v.pipes[x.line[i]].p.ID
		l, err := p.Loss(op.Flow, hydraulics.WaterAt20C())
		if err != nil {
			return
		}
		v.rec.Step(calcs.Raw{Formula: "full_velocity", Subject: x.p.ID, Part: id, Values: []float64{op.Flow, p.Bore}, Result: l.Velocity})
		if p.Friction.Method == hydraulics.ByHazenWilliams {
			v.rec.Step(calcs.Raw{Formula: "hazen_williams", Subject: x.p.ID, Part: id, Values: []float64{p.Length, op.Flow, p.Friction.C, p.Bore}, Result: l.Friction})
		} else {
			v.rec.Step(calcs.Raw{Formula: "reynolds", Subject: x.p.ID, Part: id, Values: []float64{l.Velocity, p.Bore, hydraulics.Viscosity20C}, Result: l.Reynolds})
			if l.Reynolds >= 4000 { // below, the laminar law or the cubic that joins it
				v.rec.Step(calcs.Raw{Formula: "colebrook", Subject: x.p.ID, Part: id, Values: []float64{p.Friction.Roughness, p.Bore, l.Reynolds, l.Factor}, Result: l.Factor})
			}
			v.rec.Step(calcs.Raw{Formula: "darcy_weisbach", Subject: x.p.ID, Part: id, Values: []float64{l.Factor, p.Length, p.Bore, l.Velocity}, Result: l.Friction})
		}
		v.rec.Step(calcs.Raw{Formula: "minor_loss", Subject: x.p.ID, Part: id, Values: []float64{p.K, l.Velocity}, Result: l.Minor, Basis: "from memory"})
		friction, minor = friction+l.Friction, minor+l.Minor
	}
	v.rec.Step(calcs.Raw{Formula: "system_head", Subject: x.p.ID, Fact: "head", Values: []float64{static, friction, minor}, Result: op.SystemHead})
}

// recordSegment is the flow at which the straight line between the two points
// that enclose the operating point has the head the line asks.
func (v *derivation) recordSegment(x *pump, op hydraulics.Operation) {
	for i := 1; i < len(x.p.Curve); i++ {
		a, b := &x.p.Curve[i-1], &x.p.Curve[i]
		if op.Flow > b.Flow.SI() && i < len(x.p.Curve)-1 {
			continue
		}
		v.rec.Step(v.rateStep(x, op, "pump_segment", op.SystemHead, a.Flow.SI(), b.Flow.SI(), a.Head.SI(), b.Head.SI()))
		return
	}
}

// recordPower is the same on the smooth curve through three points.
func (v *derivation) recordPower(x *pump, op hydraulics.Operation) {
	c := x.p.Curve
	h0, h1, h2, q1, q2 := c[0].Head.SI(), c[1].Head.SI(), c[2].Head.SI(), c[1].Flow.SI(), c[2].Flow.SI()
	power := math.Log((h0-h2)/(h0-h1)) / math.Log(q2/q1)
	v.rec.Step(calcs.Raw{Formula: "curve_power", Subject: x.p.ID, Values: []float64{h0, h1, h2, q1, q2}, Result: power})
	v.rec.Step(v.rateStep(x, op, "pump_power", op.SystemHead, h0, h1, q1, power))
}

func (v *derivation) rateStep(x *pump, op hydraulics.Operation, formula string, values ...float64) calcs.Raw {
	return calcs.Raw{Formula: formula, Subject: x.p.ID, Fact: "rate", Values: values, Result: op.Flow,
		Low: asSI(x.rate[lowEnd], flowScale), High: asSI(x.rate[highEnd], flowScale)}
}

// recordDischarge writes down the velocity in the widest pipe of a line and the
// load the pump stands for.
func (v *derivation) recordDischarge(x *pump, o *Discharge) {
	if v.rec == nil || o.Rate == nil {
		return
	}
	rate := float64(*o.Rate) / flowScale
	if o.Velocity != nil {
		widest := 0.0
		for _, e := range x.line {
			bore, _ := v.pipes[e].bore()
			widest = math.Max(widest, bore)
		}
		v.rec.Step(calcs.Raw{Formula: "full_velocity", Subject: o.ID, Fact: "velocity", Values: []float64{rate, widest},
			Result: float64(*o.Velocity) / velocityScale, Low: asSI(o.VelocityLow, velocityScale), High: asSI(o.VelocityHigh, velocityScale)})
	}
	if o.PumpLoad != nil && rate > 0 {
		load := float64(*o.PumpLoad) / 1000
		v.rec.Step(calcs.Raw{Formula: "pump_load", Subject: o.ID, Fact: "pump_load", Values: []float64{load / rate, rate}, Result: load})
	}
	v.recordReceiver(o)
	at := int64(0)
	if len(x.line) == 1 && o.DrainBack != nil {
		q := &v.pipes[x.line[0]]
		here := false
		if at, here = q.checkValve(); !here {
			at = q.length
		}
		if bore, ok := q.bore(); ok && at > 0 {
			v.rec.Step(calcs.Raw{Formula: "pipe_volume", Subject: o.ID, Part: "runs back", Fact: "drain_back",
				Values: []float64{bore, float64(min(at, q.length)) / 1e9}, Result: float64(*o.DrainBack) / volumeScale})
		}
	}
}

func (v *derivation) recordReceiver(o *Discharge) {
	if o.TotalLoad == nil || o.PumpLoad == nil {
		return
	}
	load, total := float64(*o.PumpLoad)/1000, float64(*o.TotalLoad)/1000
	v.rec.Step(calcs.Raw{Formula: "receiver_load", Subject: o.ID, Fact: "total_load", Values: []float64{total - load, load}, Result: total,
		Low: asSI(o.TotalLoadLow, 1000), High: asSI(o.TotalLoadHigh, 1000)})
}
