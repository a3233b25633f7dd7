package facts

import (
	"math"
	"strings"

	"backpitch/engine/design"
	"backpitch/engine/hydraulics"
)

// Scales from SI to fixed units.
const (
	flowScale     = 1e6 // mL/s in a m3/s
	volumeScale   = 1e6 // mL in a m3
	velocityScale = 1e3 // mm/s in a m/s
	lengthScale   = 1e6 // um in a m
	durationScale = 1e3 // ms in a s
	factorScale   = 1e3
	ratioScale    = 1e6
)

// plastic says whether the roughness ranges call a material plastic.
func plastic(material string) bool {
	switch material {
	case "pvc_dwv", "abs_dwv", "pvc_sch40", "abs_sch40", "cpvc", "pe", "pvc_u_en", "pe_en", "pp_en":
		return true
	}
	return false
}

// bore is the actual inside diameter in metres, by material and size.
func (q *pipe) bore() (float64, bool) {
	if q.dn == 0 || q.p.Material == "" {
		return 0, false
	}
	b, _, ok := hydraulics.Bore(q.p.Material, int(q.dn))
	return b, ok
}

// newC is C of Hazen-Williams for clean Schedule 40 plastic (77 Ill. Adm.
// Code 906 App. A Exhibit I, checked there). Other pipe takes the expected
// value of its range.
const newC = 150

func hazenC(p *design.Pipe) (float64, bool) {
	if p.HazenC != nil && p.HazenC.Expected != nil {
		return *p.HazenC.Expected, true
	}
	if plastic(p.Material) {
		return newC, true
	}
	r, ok := hydraulics.HazenWilliamsRange("other")
	return r.Value.Expected, ok
}

// Loss coefficients that the solver's table does not have.
const (
	globeK     = 10.0 // globe valve fully open, EPANET 2 users manual (from memory)
	butterflyK = 0.5  // common practice
	sixthK     = 0.5  // 60 degree bend, between 45 and 90 degrees (common practice)
	sixteenthK = 0.2  // 22.5 degree bend, half of 45 degrees (common practice)
)

func tabledK(fitting string) float64 {
	f, ok := hydraulics.FindFitting(hydraulics.TableSolver, fitting)
	if !ok {
		panic("facts: no loss coefficient for " + fitting)
	}
	return f.K.Expected
}

// bendK is the loss coefficient of a bend, by the table of EPANET 2.
func bendK(kind string) float64 {
	switch kind {
	case "quarter_bend":
		return tabledK("elbow_90")
	case "short_sweep":
		return tabledK("elbow_90_medium")
	case "long_sweep":
		return tabledK("elbow_90_long")
	case "sixth_bend":
		return sixthK
	case "eighth_bend":
		return tabledK("elbow_45")
	case "sixteenth_bend":
		return sixteenthK
	}
	return 0
}

// deviceK is the loss coefficient of a device as stated, else by the same
// table. Check valves of every style take the swing type's, plug valves the
// gate's; unions, couplings and cleanouts take none (common practice).
func deviceK(d *design.Device) float64 {
	if d.K != nil && *d.K >= 0 {
		return *d.K
	}
	switch d.Kind {
	case "check_valve":
		return tabledK("check_swing")
	case "full_open_valve", "shutoff_valve":
		switch d.Style {
		case "globe":
			return globeK
		case "butterfly":
			return butterflyK
		case "ball":
			return tabledK("ball_valve")
		}
		return tabledK("gate_valve")
	}
	return 0
}

// pipeline is the line of a pump as the formulas want it: Hazen-Williams, with
// K for bends and devices, and the velocity head lost at the outlet.
func (v *derivation) pipeline(line []int) ([]hydraulics.Pipe, bool) {
	pipes := make([]hydraulics.Pipe, 0, len(line))
	for i, e := range line {
		q := &v.pipes[e]
		bore, ok := q.bore()
		c, okC := hazenC(q.p)
		if !ok || !okC || q.length < 0 {
			return nil, false
		}
		k := 0.0
		for j := range q.p.Bends {
			k += bendK(q.p.Bends[j].Kind)
		}
		for j := range q.p.Devices {
			k += deviceK(&q.p.Devices[j])
		}
		if i == len(line)-1 {
			k += tabledK("exit")
		}
		pipes = append(pipes, hydraulics.Pipe{
			Bore: bore, Length: float64(q.length) / 1e9, K: k,
			Friction: hydraulics.Friction{Method: hydraulics.ByHazenWilliams, C: c, Form: hydraulics.FormSolver},
		})
	}
	return pipes, len(pipes) > 0
}

// operate finds where a pump runs against its line alone. Without a curve, or
// where the line is not known well enough, the stated rate stands.
func (v *derivation) operate(x *pump) {
	if r := x.p.Rate.Fixed(); r > 0 && r <= mostFlow {
		x.rate, x.rateBasis = &r, "stated"
	}
	curve, ok := pumpCurve(x.p)
	if !ok {
		return
	}
	if first := curve.First(); first.Flow == 0 {
		x.shutOff = toFixed(first.Head, lengthScale)
	}
	pipes, ok := v.pipeline(x.line)
	if !ok || x.static == nil {
		return
	}
	static, _ := x.static.Float64()
	system := hydraulics.System{StaticHead: static, Common: hydraulics.Pipeline(hydraulics.WaterAt20C(), pipes...)}
	op, err := hydraulics.OperatingPoint(curve, system, 1)
	if err != nil {
		return
	}
	x.rate, x.rateBasis = nil, ""
	switch op.Status {
	case hydraulics.Found:
		x.cannot, x.beyond = ptr(false), ptr(false)
		x.rate, x.rateBasis = toFixed(op.Flow, flowScale), "operating_point"
		x.head = toFixed(op.Head, lengthScale)
	case hydraulics.BeyondLastPoint: // the rate is at least that of the last point
		x.cannot, x.beyond = ptr(false), ptr(true)
		x.rate, x.rateBasis = toFixed(op.Flow, flowScale), "operating_point"
	case hydraulics.NoFlow:
		x.cannot, x.beyond = ptr(true), ptr(false)
	}
}

func pumpCurve(p *design.Pump) (hydraulics.Curve, bool) {
	var points []hydraulics.CurvePoint
	for i := range p.Curve {
		c := &p.Curve[i]
		points = append(points, hydraulics.CurvePoint{Flow: c.Flow.SI(), Head: c.Head.SI()})
	}
	how := hydraulics.Segments
	if p.CurveModel == "three_point" {
		how = hydraulics.ThreePoint
	}
	curve, err := hydraulics.NewCurve(how, points)
	return curve, err == nil
}

// lineVelocity is the least and the greatest velocity in the pipes of a line.
func (v *derivation) lineVelocity(x *pump) (least, greatest *int64) {
	if x.rate == nil || len(x.line) == 0 {
		return nil, nil
	}
	low, high := math.Inf(1), 0.0
	for _, e := range x.line {
		bore, ok := v.pipes[e].bore()
		if !ok {
			return nil, nil
		}
		vel, err := hydraulics.FullVelocity(float64(*x.rate)/flowScale, bore)
		if err != nil {
			return nil, nil
		}
		low, high = math.Min(low, vel), math.Max(high, vel)
	}
	return toFixed(low, velocityScale), toFixed(high, velocityScale)
}

// cycle is how often and how long a pump runs: starts at the inflow that
// starts it most often, run time from start to stop with no inflow. What runs
// back from the line counts where no check valve holds it.
func (v *derivation) cycle(x *pump, b *design.Basin, o *Pump) {
	volume, ok := drawdown(b)
	if !ok || volume <= 0 || x.rate == nil || *x.rate <= 0 {
		return
	}
	rate := float64(*x.rate) / flowScale
	o.RunTime = toFixed(volume/rate, durationScale)
	back := 0.0
	if !o.HasCheck {
		for _, e := range x.line {
			q := &v.pipes[e]
			bore, ok := q.bore()
			if !ok || q.length < 0 {
				return
			}
			held, err := hydraulics.PipeVolume(bore, float64(q.length)/1e9)
			if err != nil {
				return
			}
			back += held
		}
	}
	c, err := hydraulics.Duty{Volume: volume, DrainBack: back, PumpRate: rate}.Worst()
	if err == nil && c.Status == hydraulics.Cycling {
		o.Starts = toFixed(c.StartsPerHour, factorScale)
	}
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

// peakFlow is the peak by the profile's method of what flows by gravity, with
// continuous and pumped flow added (common practice of the flow curves; EN
// 12056-2 for discharge units); nil where a part is not known.
func (v *derivation) peakFlow(s *sums) *int64 {
	if s.unknownLoad+s.unknownPumped > 0 {
		return nil
	}
	flow := int64(0)
	if s.load > 0 {
		var ok bool
		flow, ok = v.t.PeakFlow(PeakQuery{
			Load: s.load, Largest: s.largest,
			FlushValves: is(v.d.Building.FlushValves), Use: v.d.Building.Occupancy,
		})
		if !ok {
			return nil
		}
	}
	return ptr(flow + s.continuous + s.pumped)
}

// law is how water runs in a drain: Manning's formula with n as stated, or what
// the hydraulic package expects of plastic and of any other pipe; under
// profiles that count discharge units, Colebrook-White with the roughness of a
// drain in service, as their capacity tables (EN 12056-2 Annex B, from memory).
func (v *derivation) law(p *design.Pipe) (hydraulics.Law, bool) {
	if p.Roughness != nil && p.Roughness.Expected != nil {
		return hydraulics.Manning{N: *p.Roughness.Expected}, true
	}
	if !v.t.CountsPumps() {
		r, ok := hydraulics.WallRoughnessRange("drain")
		return hydraulics.EuropeanDrain(r.Value.Expected), ok
	}
	kind := "any"
	if plastic(p.Material) {
		kind = "plastic"
	}
	r, ok := hydraulics.ManningRange(kind)
	return hydraulics.Manning{N: r.Value.Expected}, ok
}

// drainFlow fills in how a horizontal drain runs partly full at its design
// flow, the flow being steady and uniform. A flow beyond what the pipe
// can carry fills it: filling is then 1 and the velocity that of the full pipe.
func (v *derivation) drainFlow(q *pipe, o *Drain) {
	o.DesignFlow = v.peakFlow(&q.sums)
	bore, ok := q.bore()
	if !ok {
		return
	}
	o.Bore = toFixed(bore, lengthScale)
	law, okLaw := v.law(q.p)
	if !okLaw || q.lie != horizontal || q.slope == nil || q.slope.Sign() <= 0 {
		return
	}
	slope, _ := q.slope.Float64()
	drain := hydraulics.Drain{Bore: bore, Slope: slope}
	full, err := hydraulics.AtFilling(drain, law, 1)
	if err != nil {
		return
	}
	o.FullCapacity = toFixed(full.Flow, flowScale)
	if o.DesignFlow == nil || *o.DesignFlow == 0 {
		return
	}
	flow := float64(*o.DesignFlow) / flowScale
	at, err := hydraulics.AtFlow(drain, law, flow)
	if err != nil {
		if flow > full.Flow {
			o.Filling, o.Velocity = ptr(int64(ratioScale)), toFixed(full.Velocity, velocityScale)
		}
		return
	}
	o.Filling, o.Velocity = toFixed(at.Filling, ratioScale), toFixed(at.Velocity, velocityScale)
}
