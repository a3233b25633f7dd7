package hydraulics

import "math"

// LossFunc is the head lost, m, at a flow, m3/s. It must not fall as flow rises.
type LossFunc func(flow float64) (float64, error)

// Pipeline is the loss of pipes in series.
func Pipeline(water Water, pipes ...Pipe) LossFunc {
	return func(flow float64) (float64, error) {
		sum := 0.0
		for _, p := range pipes {
			l, err := p.Loss(flow, water)
			if err != nil {
				return 0, err
			}
			sum += l.Total
		}
		return sum, nil
	}
}

// System is what pumps work against.
type System struct {
	StaticHead float64  // m, stop level to discharge; negative when it discharges below
	Branch     LossFunc // of the piping of each pump; nil loses nothing
	Common     LossFunc // of the piping they share; nil loses nothing
}

// HeadAt is the head the system asks of each of n pumps running together.
//
//	H = Hstatic + hbranch(Q/n) + hcommon(Q)
//
// Source: energy equation; N.J.A.C. 7:9A-9.7 for one pump (checked); the worked
// value is reviewpe.com problem 4.9.4 (35 ft + 0.002 Q2 at 110 gpm, 59.2 ft).
//
// Symbols: Q total flow, m3/s; n pumps running; H, m.
//
// Valid: identical pumps and branches; as the losses.
//
// Worked: System.HeadAt(10.668, common 153151.48 Q2, 0.00693992) = 18.044
func (s System) HeadAt(flow float64, pumps int) (float64, error) {
	const name = "system curve"
	if err := check(name).notNegative("flow", flow).finite("static head", s.StaticHead).
		need(pumps >= 1, "number of pumps", float64(pumps), "1 or more").done(); err != nil {
		return 0, err
	}
	head := s.StaticHead
	for _, part := range []struct {
		loss LossFunc
		flow float64
	}{{s.Branch, flow / float64(pumps)}, {s.Common, flow}} {
		if part.loss == nil {
			continue
		}
		h, err := part.loss(part.flow)
		if err != nil {
			return 0, err
		}
		head += h
	}
	return finiteResult(name, head)
}

// OperatingStatus is how pump curve and system curve meet.
type OperatingStatus string

// The four ways.
const (
	Found            OperatingStatus = "found"
	NoFlow           OperatingStatus = "static_above_shut_off"
	BeyondLastPoint  OperatingStatus = "beyond_last_point"
	BeforeFirstPoint OperatingStatus = "before_first_point"
)

// Operation is where pumps run. Unless Status is Found, Head and SystemHead
// differ and the true point is unknown: BeyondLastPoint gives the last point
// (flow is at least that), BeforeFirstPoint the first point (flow is less than
// that), NoFlow gives no flow and the shut-off head.
type Operation struct {
	Status     OperatingStatus
	Pumps      int
	Flow       float64 // m3/s, all pumps together
	PerPump    float64 // m3/s
	Head       float64 // m, of each pump
	SystemHead float64 // m, asked by the system at Flow
	Iterations int
}

const operatingTolerance = 1e-6 // of the greatest head: what may be left between the curves

// OperatingPoint is where n identical pumps in parallel run against a system.
//
//	Hpump(q) - hbranch(q) = Hstatic + hcommon(n q), solved for q by bisection
//
// Source: EPANET source code and Chin, lecture on adding pumps
// (scribd.com/document/525238484); straight segments or the three-point law.
//
// Symbols: q flow of one pump, m3/s; n pumps; H heads and h losses, m.
//
// Valid: inside the pump curve, losses that do not fall as flow rises. Losses
// that jump across the pump curve give a ConvergenceError.
//
// Worked: OperatingPoint(0 7.3152, 0.0018927 6.096, 0.0037854 3.3528; static 2.4384; D 0.0525018, L 12.192, C 150, K 6.3).Flow = 0.003455
func OperatingPoint(curve Curve, system System, pumps int) (Operation, error) {
	const name = "operating point"
	if err := check(name).need(len(curve.points) >= 2, "number of points", float64(len(curve.points)), "2 or more").
		need(pumps >= 1 && pumps <= 100, "number of pumps", float64(pumps), "1 to 100").done(); err != nil {
		return Operation{}, err
	}
	surplus := func(perPump float64) (float64, error) {
		asked, err := system.HeadAt(perPump*float64(pumps), pumps)
		return curve.head(perPump) - asked, err
	}
	at := func(status OperatingStatus, perPump float64, iterations int) (Operation, error) {
		asked, err := system.HeadAt(perPump*float64(pumps), pumps)
		return Operation{status, pumps, perPump * float64(pumps), perPump, curve.head(perPump), asked, iterations}, err
	}
	first, last := curve.First().Flow, curve.Last().Flow
	atFirst, err := surplus(first)
	if err != nil {
		return Operation{}, err
	}
	switch {
	case atFirst <= 0 && first == 0:
		return at(NoFlow, 0, 0)
	case atFirst < 0:
		return at(BeforeFirstPoint, first, 0)
	case atFirst == 0:
		return at(Found, first, 0)
	}
	atLast, err := surplus(last)
	if err != nil {
		return Operation{}, err
	}
	if atLast > 0 {
		return at(BeyondLastPoint, last, 0)
	}
	perPump, iterations, err := bisect(name, surplus, first, last, 1e-14*last, bisectionLimit)
	if err != nil {
		return Operation{}, err
	}
	o, err := at(Found, perPump, iterations)
	if left := o.Head - o.SystemHead; err == nil && math.Abs(left) > operatingTolerance*curve.First().Head {
		return Operation{}, &ConvergenceError{name, iterations, first, last, left}
	}
	return o, err
}
