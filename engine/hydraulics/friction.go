package hydraulics

import "math"

// FrictionMethod names how the friction loss of a full pipe is computed.
type FrictionMethod string

// The friction methods.
const (
	ByHazenWilliams FrictionMethod = "hazen_williams"
	BySwameeJain    FrictionMethod = "darcy_swamee_jain" // explicit, as the reference network solver
	ByColebrook     FrictionMethod = "darcy_colebrook"   // exact, by bounded iteration
)

const (
	laminarLimit     = 2000.0 // Re below which flow is laminar
	turbulentLimit   = 4000.0 // Re from which the turbulent formulas hold
	roughnessLimit   = 0.05   // e/D up to which they hold
	colebrookLimit   = 100    // iterations
	colebrookSettled = 1e-13  // relative change at which 1/sqrt(f) has settled
)

// Reynolds is the Reynolds number of a full pipe.
//
//	Re = V D / nu
//
// Source: definition.
//
// Symbols: V mean velocity, m/s; D bore, m; nu kinematic viscosity, m2/s; Re, -.
//
// Valid: V >= 0, D > 0, nu > 0.
//
// Worked: Reynolds(0.291423, 0.0525018, 1.021933e-6) = 14972
func Reynolds(velocity, bore, viscosity float64) (float64, error) {
	err := check("reynolds").notNegative("velocity", velocity).positive("bore", bore).positive("viscosity", viscosity).done()
	if err != nil {
		return 0, err
	}
	return finiteResult("reynolds", velocity*bore/viscosity)
}

func checkFactor(name string, reynolds, relative, least float64) error {
	return check(name).need(reynolds >= least && !math.IsInf(reynolds, 0), "Reynolds number", reynolds, "turbulent and finite").
		between("relative roughness", relative, 0, roughnessLimit).done()
}

// SwameeJain is the explicit friction factor of turbulent flow.
//
//	f = 0.25 / [ log10( (e/D)/3.7 + 5.74/Re^0.9 ) ]^2
//
// Source: EPANET source code, hydcoeffs.c (checked).
//
// Symbols: Re Reynolds number, -; e/D roughness over bore, -; f, -.
//
// Valid: Re >= 4000, e/D <= 0.05; within about 1 % of Colebrook there.
//
// Worked: SwameeJain(14972, 2.90276e-5) = 0.027862
func SwameeJain(reynolds, relative float64) (float64, error) {
	if err := checkFactor("swamee-jain", reynolds, relative, turbulentLimit); err != nil {
		return 0, err
	}
	f, _ := swameeJain(reynolds, relative)
	return f, nil
}

// swameeJain also gives df/dRe.
func swameeJain(reynolds, relative float64) (f, slope float64) {
	viscous := 5.74 / math.Pow(reynolds, 0.9)
	argument := relative/3.7 + viscous
	logarithm := math.Log10(argument)
	f = 0.25 / (logarithm * logarithm)
	slope = 2 * f / logarithm * 0.9 * viscous / (reynolds * argument * math.Ln10)
	return f, slope
}

// Colebrook is the friction factor of turbulent flow, iterated until it settles.
//
//	1/sqrt(f) = -2 log10( (e/D)/3.7 + 2.51/(Re sqrt(f)) )
//
// Source: Colebrook 1939 (from memory); the same equation stands in Clamond,
// Ind. Eng. Chem. Res. 2009, 48, 3665, eq. 1 (checked).
//
// Symbols: Re Reynolds number, -; e/D roughness over bore, -; f, -.
//
// Valid: Re >= 4000, e/D <= 0.05.
//
// Worked: Colebrook(14972, 2.90276e-5) = 0.027874
func Colebrook(reynolds, relative float64) (float64, error) {
	if err := checkFactor("colebrook", reynolds, relative, turbulentLimit); err != nil {
		return 0, err
	}
	f, _, err := colebrook(reynolds, relative, colebrookLimit)
	return f, err
}

// colebrook also gives df/dRe, from differentiating the equation.
func colebrook(reynolds, relative float64, limit int) (f, slope float64, err error) {
	start, _ := swameeJain(reynolds, relative)
	x := 1 / math.Sqrt(start)
	previous := x
	for range limit {
		previous, x = x, -2*math.Log10(relative/3.7+2.51*x/reynolds)
		if math.Abs(x-previous) <= colebrookSettled*x {
			share := 2 / math.Ln10 * 2.51 / reynolds / (relative/3.7 + 2.51*x/reynolds)
			return 1 / (x * x), -2 / (x * x) * share / reynolds / (1 + share), nil
		}
	}
	return 0, 0, &ConvergenceError{"colebrook", limit, math.Min(x, previous), math.Max(x, previous), x - previous}
}

// FrictionFactor is the Darcy friction factor for any steady flow: laminar up
// to Re 2000, the chosen turbulent formula from Re 4000, and between them the
// cubic that joins both in value and, at 4000, in slope.
//
//	f = 64/Re for Re <= 2000
//	f = X1 + r (X2 + r (X3 + r X4)), r = Re/2000, for 2000 < Re < 4000
//	X1 = 7 Fa - Fb, X2 = 0.128 - 17 Fa + 2.5 Fb, X3 = -0.128 + 13 Fa - 2 Fb, X4 = 0.032 - 3 Fa + 0.5 Fb
//
// Source: EPANET source code, hydcoeffs.c, frictionFactor (checked); its cubic
// is used here for Colebrook too, with Fa and Fb from Colebrook.
//
// Symbols: Re, -; e/D, -; Fa = f at Re 4000; Fb = 2 Fa + 2 df/dr at Re 4000; f, -.
//
// Valid: Re > 0, e/D <= 0.05. The true flow between 2000 and 4000 is unsteady.
//
// Worked: FrictionFactor("darcy_swamee_jain", 1000, 0) = 0.064
//
// Worked: FrictionFactor("darcy_swamee_jain", 3000, 0) = 0.03307
//
// Worked: FrictionFactor("darcy_colebrook", 14972, 2.90276e-5) = 0.027874
func FrictionFactor(method FrictionMethod, reynolds, relative float64) (float64, error) {
	const name = "friction factor"
	err := check(name).positive("Reynolds number", reynolds).between("relative roughness", relative, 0, roughnessLimit).
		known(method == BySwameeJain || method == ByColebrook, "method", string(method), "darcy_swamee_jain or darcy_colebrook").done()
	if err != nil {
		return 0, err
	}
	if reynolds <= laminarLimit {
		return finiteResult(name, 64/reynolds)
	}
	turbulent := func(re float64) (f, slope float64, err error) {
		if method == ByColebrook {
			return colebrook(re, relative, colebrookLimit)
		}
		f, slope = swameeJain(re, relative)
		return f, slope, nil
	}
	if reynolds >= turbulentLimit {
		f, _, err := turbulent(reynolds)
		return f, err
	}
	fa, slope, err := turbulent(turbulentLimit)
	if err != nil {
		return 0, err
	}
	fb := 2*fa + 2*slope*laminarLimit
	r := reynolds / laminarLimit
	x1, x2 := 7*fa-fb, 0.128-17*fa+2.5*fb
	x3, x4 := -0.128+13*fa-2*fb, 0.032-3*fa+0.5*fb
	return x1 + r*(x2+r*(x3+r*x4)), nil
}
