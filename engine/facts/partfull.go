package facts

import (
	"errors"
	"fmt"

	"backpitch/engine/calcs"
	"backpitch/engine/hydraulics"
)

// peakFlow is the peak by the profile's method of what flows by gravity, with
// continuous and pumped flow added (common practice of the flow curves; EN
// 12056-2 for discharge units), at each end of the pumps; nil where a part is
// not known.
func (v *derivation) peakFlow(s *sums) spread {
	if s.unknownLoad+s.unknownPumped > 0 {
		return spread{}
	}
	flow := int64(0)
	if s.load > 0 {
		var ok bool
		flow, ok = v.t.PeakFlow(PeakQuery{
			Load: s.load, Largest: s.largest,
			FlushValves: is(v.d.Building.FlushValves), Use: v.d.Building.Occupancy,
		})
		if !ok {
			v.rec.Gap("building", "design flow", "the profile's method gives none: it needs fixture_use, or a flow curve that reaches the load")
			return spread{}
		}
	}
	var peak spread
	for end := range ends {
		peak[end] = ptr(flow + s.continuous + s.pumped[end])
	}
	return peak
}

// drainFlow fills in how a horizontal drain runs partly full at its design
// flow, the flow being steady and uniform. A flow beyond what the pipe
// can carry fills it: filling is then 1 and the velocity that of the full pipe.
func (v *derivation) drainFlow(q *pipe, o *Drain) {
	peak := v.peakFlow(&q.sums)
	o.DesignFlowLow, o.DesignFlow, o.DesignFlowHigh = peak[lowEnd], peak[expected], peak[highEnd]
	v.recordDesignFlow(q.p.ID, &q.sums, "design_flow", peak)
	bore, ok := q.bore()
	if !ok {
		return
	}
	o.Bore = toFixed(bore, lengthScale)
	laws, okLaw := v.laws(q.p)
	if !okLaw || q.lie != horizontal || q.slope == nil || q.slope.Sign() <= 0 {
		return
	}
	slope, _ := q.slope.Float64()
	drain := hydraulics.Drain{Bore: bore, Slope: slope}
	var full [ends]hydraulics.GravityFlow
	for end := range ends {
		var err error
		if full[end], err = hydraulics.AtFilling(drain, laws[end], 1); err != nil {
			v.notComputed(q.p.Position, fmt.Sprintf("drain %q", q.p.ID), "full capacity", err)
			return
		}
	}
	o.FullLow, o.FullCapacity, o.FullHigh = toFixed(full[lowEnd].Flow, flowScale), toFixed(full[expected].Flow, flowScale), toFixed(full[highEnd].Flow, flowScale)
	v.recordFull(q, o, laws[expected], full[expected])
	if peak[expected] == nil || *peak[expected] == 0 {
		return
	}
	// A rough pipe is deeper and slower; more flow is deeper and faster.
	at := func(end, flow int) (hydraulics.GravityFlow, bool) {
		return v.partFull(q, drain, laws[end], float64(*peak[flow])/flowScale, full[end])
	}
	runs, ok1 := at(expected, expected)
	deep, ok2 := at(lowEnd, highEnd)
	shallow, ok3 := at(highEnd, lowEnd)
	slow, ok4 := at(lowEnd, lowEnd)
	fast, ok5 := at(highEnd, highEnd)
	if !ok1 || !ok2 || !ok3 || !ok4 || !ok5 {
		return
	}
	o.FillingLow, o.Filling, o.FillingHigh = toFixed(shallow.Filling, ratioScale), toFixed(runs.Filling, ratioScale), toFixed(deep.Filling, ratioScale)
	o.VelocityLow, o.Velocity, o.VelocityHigh = ordered(slow.Velocity, runs.Velocity, fast.Velocity)
	v.recordPartFull(q, o, laws[expected], runs)
}

// ordered keeps the expected velocity inside its ends: a pipe that runs full is
// slower than one nearly full, so that the ends can turn.
func ordered(slow, runs, fast float64) (low, mid, high *int64) {
	return toFixed(min(slow, runs), velocityScale), toFixed(runs, velocityScale), toFixed(max(fast, runs), velocityScale)
}

// partFull is a drain at a flow; full where it cannot carry it.
func (v *derivation) partFull(q *pipe, drain hydraulics.Drain, l law, flow float64, full hydraulics.GravityFlow) (hydraulics.GravityFlow, bool) {
	at, err := hydraulics.AtFlow(drain, l.Law, flow)
	if err == nil {
		return at, true
	}
	if _, over := errors.AsType[*hydraulics.CapacityError](err); over {
		v.rec.Gap(q.p.ID, "filling", err.Error())
		return full, true
	}
	v.notComputed(q.p.Position, fmt.Sprintf("drain %q", q.p.ID), "filling", err)
	return at, false
}

// explainer says how a peak flow came about; tables that cannot are left out.
type explainer interface {
	explain(PeakQuery) (formula string, values []float64, ok bool)
}

// recordDesignFlow writes down the peak of a drain or basin.
func (v *derivation) recordDesignFlow(id string, s *sums, fact string, peak spread) {
	if v.rec == nil || peak[expected] == nil || *peak[expected] == 0 {
		return
	}
	gravity := float64(*peak[expected]-s.continuous-s.pumped[expected]) / flowScale
	more := s.continuous+s.pumped[expected] != 0
	if t, ok := v.t.(explainer); ok && s.load > 0 {
		query := PeakQuery{Load: s.load, Largest: s.largest, FlushValves: is(v.d.Building.FlushValves), Use: v.d.Building.Occupancy}
		if formula, values, ok := t.explain(query); ok {
			step := calcs.Raw{Formula: formula, Subject: id, Values: values, Result: gravity}
			if !more {
				step.Fact = fact
			}
			v.rec.Step(step)
		}
	}
	if !more {
		return
	}
	v.rec.Step(calcs.Raw{Formula: "design_flow", Subject: id, Fact: fact,
		Values: []float64{gravity, float64(s.continuous) / flowScale, float64(s.pumped[expected]) / flowScale},
		Result: float64(*peak[expected]) / flowScale, Low: asSI(peak[lowEnd], flowScale), High: asSI(peak[highEnd], flowScale)})
}

func (v *derivation) recordFull(q *pipe, o *Drain, l law, full hydraulics.GravityFlow) {
	if v.rec == nil {
		return
	}
	slope, _ := q.slope.Float64()
	bore, _ := q.bore()
	formula := "full_colebrook"
	if l.manning {
		formula = "full_manning"
	}
	v.rec.Step(calcs.Raw{Formula: formula, Subject: o.ID, Fact: "full_capacity", Values: []float64{l.coefficient, bore, slope},
		Result: full.Flow, Low: asSI(o.FullLow, flowScale), High: asSI(o.FullHigh, flowScale)})
}

// recordPartFull writes down the section at the depth that was found, the
// velocity there and the flow they carry, which is the design flow again.
func (v *derivation) recordPartFull(q *pipe, o *Drain, l law, at hydraulics.GravityFlow) {
	if v.rec == nil {
		return
	}
	slope, _ := q.slope.Float64()
	bore, _ := q.bore()
	v.rec.Step(calcs.Raw{Formula: "wetted_area", Subject: o.ID, Values: []float64{bore, at.Filling}, Result: at.Area})
	v.rec.Step(calcs.Raw{Formula: "hydraulic_radius", Subject: o.ID, Values: []float64{bore, at.Filling}, Result: at.HydraulicRadius})
	formula := "velocity_colebrook"
	if l.manning {
		formula = "velocity_manning"
	}
	v.rec.Step(calcs.Raw{Formula: formula, Subject: o.ID, Fact: "velocity", Values: []float64{l.coefficient, at.HydraulicRadius, slope},
		Result: at.Velocity, Low: asSI(o.VelocityLow, velocityScale), High: asSI(o.VelocityHigh, velocityScale)})
	v.rec.Step(calcs.Raw{Formula: "flow_check", Subject: o.ID, Fact: "filling", Part: "filling", Values: []float64{at.Velocity, at.Area}, Result: at.Flow})
}
