package hydraulics

import (
	"math"
	"slices"
)

// Interpolation names how head is read between the points of a pump curve. The
// choice matters: on one published curve the two differ by 3 % in flow.
type Interpolation string

// The interpolations.
const (
	// Segments joins the points by straight lines.
	Segments Interpolation = "segments"
	// ThreePoint is H = H0 - r Q^c through exactly three points, the first at no
	// flow, as the reference network solver reads such curves.
	ThreePoint Interpolation = "three_point"
)

// CurvePoint is one point of a pump curve.
type CurvePoint struct {
	Flow float64 // m3/s
	Head float64 // m
}

// Curve is a valid pump curve. Make it with NewCurve.
type Curve struct {
	interpolation Interpolation
	points        []CurvePoint
	r, c          float64 // of the three-point power law
}

const maxExponent = 20 // as the reference network solver

// NewCurve checks a pump curve: at least two points, flow strictly rising from
// zero or more, head strictly falling and never negative.
//
//	c = ln((H0-H2)/(H0-H1)) / ln(Q2/Q1), r = (H0-H1) / Q1^c
//
// Source: EPANET source code, input2.c, power curve (from memory), confirmed
// by running that solver.
//
// Symbols: Q flow, m3/s; H head, m; r, c of the three-point law.
//
// Valid: three-point needs exactly three points, the first at no flow, and
// 0 < c <= 20.
//
// Worked: NewCurve("three_point", 0 12.192, 0.0025236 10.0584, 0.0050472 4.2672).HeadAt(0.00402108) = 7.0382
func NewCurve(interpolation Interpolation, points []CurvePoint) (Curve, error) {
	const name = "pump curve"
	c := check(name).need(len(points) >= 2, "number of points", float64(len(points)), "2 or more").
		known(interpolation == Segments || interpolation == ThreePoint, "interpolation", string(interpolation), "segments or three_point")
	for i, p := range points {
		c.notNegative("flow", p.Flow).notNegative("head", p.Head)
		if i > 0 {
			c.need(p.Flow > points[i-1].Flow, "flow", p.Flow, "more than at the point before").
				need(p.Head < points[i-1].Head, "head", p.Head, "less than at the point before")
		}
	}
	if err := c.done(); err != nil {
		return Curve{}, err
	}
	curve := Curve{interpolation: interpolation, points: slices.Clone(points)}
	if interpolation == ThreePoint {
		if err := curve.fit(); err != nil {
			return Curve{}, err
		}
	}
	return curve, nil
}

func (c *Curve) fit() error {
	const name = "three-point pump curve"
	if err := check(name).need(len(c.points) == 3, "number of points", float64(len(c.points)), "3").
		need(c.points[0].Flow == 0, "first flow", c.points[0].Flow, "0").done(); err != nil {
		return err
	}
	h0, p1, p2 := c.points[0].Head, c.points[1], c.points[2]
	c.c = math.Log((h0-p2.Head)/(h0-p1.Head)) / math.Log(p2.Flow/p1.Flow)
	c.r = (h0 - p1.Head) / math.Pow(p1.Flow, c.c)
	return check(name).need(c.c > 0 && c.c <= maxExponent, "exponent", c.c, "above 0 and at most 20").
		positive("coefficient", c.r).done()
}

// First is the point of least flow; its head is the shut-off head where the
// flow is zero.
func (c Curve) First() CurvePoint { return c.points[0] }

// Last is the point of greatest flow.
func (c Curve) Last() CurvePoint { return c.points[len(c.points)-1] }

// HeadAt is the head of the pump at a flow inside its curve.
//
//	H = Ha + (Hb-Ha) (Q-Qa)/(Qb-Qa) between points, or H = H0 - r Q^c
//
// Source: the named interpolation.
//
// Symbols: Q flow, m3/s; H head, m.
//
// Valid: flows from the first to the last point; outside it is a RangeError.
//
// Worked: Curve.HeadAt("segments", 0 7.3152, 0.0018927 6.096, 0.0037854 3.3528, 0.0028391) = 4.7243
func (c Curve) HeadAt(flow float64) (float64, error) {
	const name = "pump curve"
	if err := check(name).need(len(c.points) >= 2, "number of points", float64(len(c.points)), "2 or more").
		notNegative("flow", flow).done(); err != nil {
		return 0, err
	}
	if flow < c.First().Flow || flow > c.Last().Flow {
		return 0, &RangeError{name, "flow", flow, c.First().Flow, c.Last().Flow}
	}
	return c.head(flow), nil
}

func (c Curve) head(flow float64) float64 {
	if c.interpolation == ThreePoint {
		return c.points[0].Head - c.r*math.Pow(flow, c.c)
	}
	i := 1
	for i < len(c.points)-1 && c.points[i].Flow < flow {
		i++
	}
	a, b := c.points[i-1], c.points[i]
	return a.Head + (b.Head-a.Head)*((flow-a.Flow)/(b.Flow-a.Flow))
}

// ShaftPower is the power a pump takes from its shaft.
//
//	P = rho g Q H / eta
//
// Source: definition of pump efficiency; sludgeschool.com practice, pumping (checked).
//
// Symbols: rho density, kg/m3; g, m/s2; Q flow, m3/s; H head, m; eta efficiency, -; P, W.
//
// Valid: 0 < eta <= 1. With eta 1 it is the hydraulic power.
//
// Worked: ShaftPower(0.0315451, 14.0208, 0.7, rho 998.2, g 9.80665) = 6185
func ShaftPower(flow, head, efficiency float64, water Water) (float64, error) {
	const name = "shaft power"
	c := check(name).notNegative("flow", flow).notNegative("head", head).positive("efficiency", efficiency).
		between("efficiency", efficiency, 0, 1)
	if err := water.check(c).done(); err != nil {
		return 0, err
	}
	return finiteResult(name, water.Density*water.Gravity*flow*head/efficiency)
}
