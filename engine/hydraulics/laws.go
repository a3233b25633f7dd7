package hydraulics

import "math"

// Manning is the law with a roughness coefficient n that does not vary with depth.
type Manning struct {
	N float64 // s/m^(1/3)
}

func (m Manning) check(c *checker) *checker { return c.positive("Manning n", m.N) }

func (m Manning) meanVelocity(radius, slope float64) float64 {
	return math.Cbrt(radius*radius) * math.Sqrt(slope) / m.N
}

// Velocity is Manning's mean velocity.
//
//	V = (1/n) R^(2/3) S^(1/2)
//
// Source: Manning formula in SI form (1.486/n in feet), engineeringprep.com
// problem 472; rough turbulent flow, so the answer is optimistic for small
// smooth drains nearly empty.
//
// Symbols: n coefficient, s/m^(1/3); R hydraulic radius, m; S slope, m/m; V, m/s.
//
// Valid: n > 0, R > 0, S > 0; used for n 0.008 to 0.03.
//
// Worked: Manning.Velocity(n 0.009, 0.0259, 0.02) = 1.37554
func (m Manning) Velocity(hydraulicRadius, slope float64) (float64, error) {
	return lawVelocity(m, "manning", hydraulicRadius, slope)
}

// ColebrookWhite is the law with an equivalent sand roughness and a viscosity;
// the bore of the full pipe is replaced by four hydraulic radii.
type ColebrookWhite struct {
	Roughness float64 // m
	Viscosity float64 // m2/s
	Gravity   float64 // m/s2
}

// EuropeanDrain is ColebrookWhite with the viscosity and gravity that the
// European capacity tables use.
func EuropeanDrain(roughness float64) ColebrookWhite {
	return ColebrookWhite{roughness, ViscosityDrainage, Gravity}
}

func (w ColebrookWhite) check(c *checker) *checker {
	return c.notNegative("roughness", w.Roughness).positive("viscosity", w.Viscosity).positive("gravity", w.Gravity)
}

// meanVelocity is zero where the film is thinner than the law can describe.
func (w ColebrookWhite) meanVelocity(radius, slope float64) float64 {
	root := math.Sqrt(8 * w.Gravity * radius * slope)
	argument := w.Roughness/(14.8*radius) + 2.51*w.Viscosity/(4*radius*root)
	if argument >= 1 {
		return 0
	}
	return -2 * root * math.Log10(argument)
}

// Velocity is the Colebrook-White mean velocity, explicit in slope.
//
//	V = -2 sqrt(8 g R S) log10( k/(14.8 R) + 2.51 nu / (4 R sqrt(8 g R S)) )
//
// Source: Colebrook-White in the form of the Hong Kong Sewerage Manual
// (scribd.com/document/678799402, which rounds 2.51 to 2.5), with d = 4R for
// part-full flow as European capacity tables do (EN 12056-2 Annex B, from memory).
//
// Symbols: k roughness, m; nu kinematic viscosity, m2/s; g, m/s2; R hydraulic
// radius, m; S slope, m/m; V, m/s.
//
// Valid: turbulent flow, k/R below about 0.2; a film too thin for the law gives 0.
//
// Worked: ColebrookWhite.Velocity(k 0.0006, nu 1.005e-6, g 9.81, 0.3, 0.004) = 2.362
func (w ColebrookWhite) Velocity(hydraulicRadius, slope float64) (float64, error) {
	return lawVelocity(w, "colebrook-white", hydraulicRadius, slope)
}

func lawVelocity(law Law, name string, radius, slope float64) (float64, error) {
	c := check(name).positive("hydraulic radius", radius).positive("slope", slope)
	if err := law.check(c).done(); err != nil {
		return 0, err
	}
	return finiteResult(name, law.meanVelocity(radius, slope))
}

// Velocities, m/s, taken as enough to keep a pipe clean.
const (
	// ScourVelocity is 2 ft/s: sewers running full (Purcell, Oklahoma, sewer
	// slopes, checked) and force mains at design rate (Wis. Admin. Code NR
	// 110.14, checked).
	ScourVelocity = 0.6096
	// ScourVelocityEuropean is used for drains and pumped pipes in European
	// practice (EN 12056-4, from memory).
	ScourVelocityEuropean = 0.7
)

// SelfCleansing compares a mean velocity with the one that keeps a pipe clean.
//
//	ratio = V / Vreq
//
// Source: common practice; the two constants above name where Vreq is published.
//
// Symbols: V mean velocity, m/s; Vreq required velocity, m/s; ratio, -.
//
// Valid: V >= 0, Vreq > 0. A ratio of 1 or more is enough.
//
// Worked: SelfCleansing(0.582, 0.6096) = 0.955
func SelfCleansing(velocity, required float64) (ratio float64, err error) {
	if err := check("self-cleansing").notNegative("velocity", velocity).positive("required velocity", required).done(); err != nil {
		return 0, err
	}
	return finiteResult("self-cleansing", velocity/required)
}

// SlopeForVelocity is the least slope at which a drain filled to h/d runs at a
// velocity.
//
//	V(R(h/d), S) = Vreq, solved for S between 1e-9 and 1
//
// Source: the chosen law; bisection.
//
// Symbols: d bore, m; h/d filling, -; Vreq velocity, m/s; n or k of the law; S, m/m.
//
// Valid: 0 < h/d <= 1; a velocity that no slope up to 1 reaches is a RangeError.
//
// Worked: SlopeForVelocity(0.2032, 1, n 0.013, 0.6096) = 0.00334
func SlopeForVelocity(bore, filling float64, law Law, velocity float64) (float64, error) {
	const name, gentle, steep = "slope for velocity", 1e-9, 1.0
	c := check(name).positive("bore", bore).between("filling", filling, 1e-6, 1).positive("velocity", velocity)
	if err := law.check(c).done(); err != nil {
		return 0, err
	}
	radius := section(bore, filling).HydraulicRadius
	slowest, fastest := law.meanVelocity(radius, gentle), law.meanVelocity(radius, steep)
	if !(slowest <= velocity && velocity <= fastest) {
		return 0, &RangeError{name, "velocity", velocity, slowest, fastest}
	}
	short := func(slope float64) (float64, error) { return law.meanVelocity(radius, slope) - velocity, nil }
	slope, _, err := bisect(name, short, gentle, steep, 1e-14, bisectionLimit)
	return slope, err
}
