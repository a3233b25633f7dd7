package facts

import (
	"math"

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

// bore is the actual inside diameter in metres, by material and size.
func (q *pipe) bore() (float64, bool) {
	if q.dn == 0 || q.p.Material == "" {
		return 0, false
	}
	b, _, ok := hydraulics.Bore(q.p.Material, int(q.dn))
	return b, ok
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

// minorK is the loss coefficient of the bends and devices of a pipe.
func minorK(p *design.Pipe) float64 {
	k := 0.0
	for j := range p.Bends {
		k += bendK(p.Bends[j].Kind)
	}
	for j := range p.Devices {
		k += deviceK(&p.Devices[j])
	}
	return k
}

// pipeline is part of the line of a pump as the formulas want it, at each end:
// friction by the named method, K for bends and devices, and, where the last
// pipe of the line is in it, the velocity head lost at the outlet.
func (v *derivation) pipeline(line []int, method string, toOutlet bool) (lines [ends][]hydraulics.Pipe, ok bool) {
	for i, e := range line {
		q := &v.pipes[e]
		bore, ok := q.bore()
		f, known := frictions(q.p, method)
		if !ok || !known || q.length < 0 {
			return lines, false
		}
		k := minorK(q.p)
		if toOutlet && i == len(line)-1 {
			k += tabledK("exit")
		}
		for end := range ends {
			lines[end] = append(lines[end], hydraulics.Pipe{Bore: bore, Length: float64(q.length) / 1e9, K: k, Friction: f[end]})
		}
	}
	return lines, true
}

// frictionMethod is as the design states for the pump, else the profile's.
func (v *derivation) frictionMethod(p *design.Pump) string {
	if p.Friction != "" {
		return p.Friction
	}
	return v.t.Friction()
}

// lineVelocity is the least and the greatest velocity in the pipes of a line at
// a rate.
func (v *derivation) lineVelocity(x *pump, rate *int64) (least, greatest *int64) {
	if rate == nil || len(x.line) == 0 {
		return nil, nil
	}
	low, high := math.Inf(1), 0.0
	for _, e := range x.line {
		bore, ok := v.pipes[e].bore()
		if !ok {
			return nil, nil
		}
		vel, err := hydraulics.FullVelocity(float64(*rate)/flowScale, bore)
		if err != nil {
			return nil, nil
		}
		low, high = math.Min(low, vel), math.Max(high, vel)
	}
	return toFixed(low, velocityScale), toFixed(high, velocityScale)
}
