package hydraulics

import "math"

// Unit is one of several pumps that lift into a shared line.
type Unit struct {
	Curve  Curve
	Branch LossFunc // of the piping of this pump alone; nil loses nothing
}

// Together is where pumps that need not be alike run against one system.
type Together struct {
	Status     OperatingStatus
	Flow       float64   // m3/s, all together
	Each       []float64 // m3/s, of each pump; 0 for one that the others hold shut
	Head       float64   // m, where the lines meet, above the stop level
	Iterations int
}

// OperateTogether is where pumps in parallel, alike or not, run against a system.
//
//	Hpump,i(qi) - hbranch,i(qi) = H for each pump, H = Hstatic + hcommon(sum qi)
//
// Source: Chin, lecture on adding pumps (scribd.com/document/525238484): flows
// add at one head; for identical pumps the same as OperatingPoint.
//
// Symbols: qi flow of a pump, m3/s; H head where the lines meet, m; h losses, m.
//
// Valid: each curve starts at no flow, each pump has a check valve (none runs
// backwards), losses do not fall as flow rises. A pump that would run beyond
// its last point gives BeyondLastPoint, with its flow held there.
//
// Worked: OperateTogether(0 10, 0.002 8, 0.005 2; static 3; branch D 0.05, L 2, C 150, K 3; common D 0.08, L 20, C 150, K 4).Flow = 0.0073885
func OperateTogether(units []Unit, static float64, common LossFunc) (Together, error) {
	const name = "pumps in parallel"
	err := check(name).need(len(units) >= 1 && len(units) <= 100, "number of pumps", float64(len(units)), "1 to 100").
		finite("static head", static).done()
	if err != nil {
		return Together{}, err
	}
	top := math.Inf(-1)
	for _, u := range units {
		err := check(name).need(len(u.Curve.points) >= 2, "number of points", float64(len(u.Curve.points)), "2 or more").done()
		if err == nil {
			err = check(name).need(u.Curve.First().Flow == 0, "flow of the first point", u.Curve.First().Flow, "zero").done()
		}
		if err != nil {
			return Together{}, err
		}
		top = math.Max(top, u.Curve.First().Head)
	}
	out := Together{Status: Found, Each: make([]float64, len(units))}
	if top <= static {
		out.Status, out.Head = NoFlow, top
		return out, nil
	}
	// surplus is what the common line asks beyond a head, given what the pumps deliver at it.
	surplus := func(head float64) (float64, error) {
		out.Flow, out.Status = 0, Found
		for i, u := range units {
			q, beyond, err := u.at(head)
			if err != nil {
				return 0, err
			}
			out.Each[i] = q
			out.Flow += q
			if beyond {
				out.Status = BeyondLastPoint
			}
		}
		asked := static
		if common != nil {
			h, err := common(out.Flow)
			if err != nil {
				return 0, err
			}
			asked += h
		}
		return asked - head, nil
	}
	if atStatic, err := surplus(static); err != nil || atStatic <= 0 {
		out.Head = static // the line loses nothing
		return out, err
	}
	head, iterations, err := bisect(name, surplus, static, top, 1e-12*math.Max(1, math.Abs(top)), bisectionLimit)
	if err != nil {
		return Together{}, err
	}
	out.Head, out.Iterations = head, iterations
	left, err := surplus(head)
	if err == nil && out.Status == Found && math.Abs(left) > operatingTolerance*math.Max(top, 1) {
		return Together{}, &ConvergenceError{name, iterations, static, top, left}
	}
	return out, err
}

// at is the flow of one pump into a head at the end of its branch, and whether
// it would run beyond its last point.
func (u Unit) at(head float64) (flow float64, beyond bool, err error) {
	surplus := func(q float64) (float64, error) {
		h := u.Curve.head(q) - head
		if u.Branch == nil {
			return h, nil
		}
		lost, err := u.Branch(q)
		return h - lost, err
	}
	atFirst, err := surplus(0)
	if err != nil || atFirst <= 0 {
		return 0, false, err
	}
	last := u.Curve.Last().Flow
	atLast, err := surplus(last)
	if err != nil {
		return 0, false, err
	}
	if atLast > 0 {
		return last, true, nil
	}
	flow, _, err = bisect("pumps in parallel", surplus, 0, last, 1e-14*last, bisectionLimit)
	return flow, false, err
}
