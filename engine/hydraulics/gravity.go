package hydraulics

import "math"

// Drain is a circular pipe running under gravity.
type Drain struct {
	Bore  float64 // m, actual inside diameter
	Slope float64 // m/m
}

func (d Drain) check(c *checker) *checker {
	return c.positive("bore", d.Bore).positive("slope", d.Slope)
}

// Section is the wetted part of a circular pipe.
type Section struct {
	Filling         float64 // depth over bore
	Depth           float64 // m
	Area            float64 // m2
	WettedPerimeter float64 // m
	HydraulicRadius float64 // m
}

// GravityFlow is steady uniform flow in a drain.
type GravityFlow struct {
	Section
	Velocity float64 // m/s, mean
	Flow     float64 // m3/s
}

// Law gives the mean velocity of steady uniform flow: Manning or ColebrookWhite.
type Law interface {
	// Velocity is the mean velocity, m/s, at a hydraulic radius, m, and a slope, m/m.
	Velocity(hydraulicRadius, slope float64) (float64, error)
	meanVelocity(hydraulicRadius, slope float64) float64
	check(*checker) *checker
}

// SectionAt is the geometry of a circular pipe filled to a depth.
//
//	theta = 2 acos(1 - 2 h/d), A = d2 (theta - sin theta) / 8, P = d theta / 2, R = A/P
//
// Source: geometry of the circular segment, as in the course on partly full
// pipes by H. Bengtson (fliphtml5.com/whzx/ghlu).
//
// Symbols: d bore, m; h/d filling, -; A area, m2; P wetted perimeter, m; R
// hydraulic radius, m; theta angle at the centre, rad.
//
// Valid: d > 0, 0 <= h/d <= 1.
//
// Worked: SectionAt(1, 0.3).Area = 0.1982
//
// Worked: SectionAt(1, 0.3).HydraulicRadius = 0.1709
func SectionAt(bore, filling float64) (Section, error) {
	if err := check("section").positive("bore", bore).between("filling", filling, 0, 1).done(); err != nil {
		return Section{}, err
	}
	s := section(bore, filling)
	_, err := finiteResult("section", s.Area)
	return s, err
}

func section(bore, filling float64) Section {
	s := Section{Filling: filling, Depth: filling * bore}
	theta := 2 * math.Acos(1-2*filling)
	s.Area = bore * bore * (theta - math.Sin(theta)) / 8
	s.WettedPerimeter = bore * theta / 2
	if s.WettedPerimeter > 0 {
		s.HydraulicRadius = s.Area / s.WettedPerimeter
	}
	return s
}

func gravityFlow(d Drain, law Law, filling float64) GravityFlow {
	s := section(d.Bore, filling)
	v := 0.0
	if s.HydraulicRadius > 0 {
		v = law.meanVelocity(s.HydraulicRadius, d.Slope)
	}
	return GravityFlow{s, v, v * s.Area}
}

// AtFilling is the flow that a drain carries when it runs filled to h/d;
// filling 1 is its capacity running full.
//
//	Q = A V(R, S)
//
// Source: continuity, with the velocity of the chosen law.
//
// Symbols: d bore, m; S slope, m/m; h/d filling, -; n or k of the law; Q, m3/s.
//
// Valid: as the law; 0 <= h/d <= 1. Bends, joints and air are not in it.
//
// Worked: AtFilling(0.1036, 0.02, n 0.009, 1).Flow = 0.011595
//
// Worked: AtFilling(0.096, 0.01, k 0.001, 0.5).Flow = 0.0025
func AtFilling(d Drain, law Law, filling float64) (GravityFlow, error) {
	c := d.check(check("gravity flow")).between("filling", filling, 0, 1)
	if err := law.check(c).done(); err != nil {
		return GravityFlow{}, err
	}
	f := gravityFlow(d, law, filling)
	_, err := finiteResult("gravity flow", f.Flow)
	return f, err
}

// surelyRising is a filling up to which flow rises with depth under both laws.
const surelyRising = 0.9

// Greatest is the most that a drain carries under gravity, at the filling
// where more depth adds more friction than area.
//
//	dQ/d(h/d) = 0, near h/d = 0.938 for Manning
//
// Source: geometry and the law; 0.94 and 1.08 Qfull are published in
// neureti.com/study-guide/pe/water (gravity sewer hydraulics).
//
// Symbols: d bore, m; S slope, m/m; n or k of the law; Q, m3/s.
//
// Valid: as the law. Flow above Qfull is unstable: design to less.
//
// Worked: Greatest(0.1036, 0.02, n 0.009).Filling = 0.938
func Greatest(d Drain, law Law) (GravityFlow, error) {
	if err := law.check(d.check(check("gravity flow"))).done(); err != nil {
		return GravityFlow{}, err
	}
	f := greatest(d, law)
	_, err := finiteResult("gravity flow", f.Flow)
	return f, err
}

// greatest narrows the peak by golden section in a fixed number of steps.
func greatest(d Drain, law Law) GravityFlow {
	const ratio = 0.6180339887498949
	low, high := surelyRising, 1.0
	a, b := high-ratio*(high-low), low+ratio*(high-low)
	qa, qb := gravityFlow(d, law, a).Flow, gravityFlow(d, law, b).Flow
	for range 40 {
		if qa < qb {
			low, a, qa = a, b, qb
			b = low + ratio*(high-low)
			qb = gravityFlow(d, law, b).Flow
		} else {
			high, b, qb = b, a, qa
			a = high - ratio*(high-low)
			qa = gravityFlow(d, law, a).Flow
		}
	}
	return gravityFlow(d, law, (low+high)/2)
}

// AtFlow is the depth and velocity at which a drain carries a flow. Of the two
// depths that exist close to full it gives the lower one.
//
//	Q = A(h/d) V(R(h/d), S), solved for h/d
//
// Source: continuity and the chosen law; bisection.
//
// Symbols: d bore, m; S slope, m/m; Q flow, m3/s; n or k of the law; h/d, -.
//
// Valid: 0 <= Q <= the greatest flow; more gives a CapacityError.
//
// Worked: AtFlow(0.1036, 0.02, n 0.009, 0.004).Filling = 0.4052
//
// Worked: AtFlow(0.1036, 0.02, n 0.009, 0.004).Velocity = 1.2488
func AtFlow(d Drain, law Law, flow float64) (GravityFlow, error) {
	c := d.check(check("gravity flow")).notNegative("flow", flow)
	if err := law.check(c).done(); err != nil {
		return GravityFlow{}, err
	}
	high := surelyRising
	if flow > gravityFlow(d, law, high).Flow {
		most := greatest(d, law)
		if flow > most.Flow {
			return GravityFlow{}, &CapacityError{flow, most.Flow, gravityFlow(d, law, 1).Flow}
		}
		high = most.Filling
	}
	short := func(filling float64) (float64, error) { return gravityFlow(d, law, filling).Flow - flow, nil }
	filling, _, err := bisect("depth of flow", short, 0, high, 1e-13, bisectionLimit)
	if err != nil {
		return GravityFlow{}, err
	}
	f := gravityFlow(d, law, filling)
	f.Flow = flow
	err = check("gravity flow").finite("area", f.Area).finite("velocity", f.Velocity).done()
	return f, err
}
