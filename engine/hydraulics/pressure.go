package hydraulics

import "math"

// HazenWilliamsForm names a published set of the constants of the formula. A
// coefficient belongs with its exponents: mixing them moves the answer by 1 to 2 %.
type HazenWilliamsForm string

// The forms, all in SI.
const (
	// FormSolver is 4.727 in feet and cubic feet per second with exponents 1.852
	// and 4.871 (EPANET source code, hydcoeffs.c, checked), which is 10.667 in SI.
	FormSolver HazenWilliamsForm = "solver"
	// FormSI is 10.67 with 1.852 and 4.8704 (exponents from memory).
	FormSI HazenWilliamsForm = "si"
	// FormHandbook is 10.44 in feet, gallons a minute and inches with exponents
	// 1.85 and 4.8655 (from memory).
	FormHandbook HazenWilliamsForm = "handbook"
)

func (f HazenWilliamsForm) constants() (coefficient, flowExponent, boreExponent float64, ok bool) {
	switch f {
	case FormSolver:
		return 4.727 * math.Pow(foot, 4.871-3*1.852), 1.852, 4.871, true
	case FormSI:
		return 10.67, 1.852, 4.8704, true
	case FormHandbook:
		return 10.44 * math.Pow(gallonPerMinute, -1.85) * math.Pow(inch, 4.8655), 1.85, 4.8655, true
	}
	return 0, 0, 0, false
}

// HazenWilliams is the friction loss of a full pipe.
//
//	h = a L Q^m / (C^m D^p)
//
// Source: the form names it (see HazenWilliamsForm).
//
// Symbols: Q flow, m3/s; D bore, m; L length, m; C coefficient; h, m; a, m, p
// constants of the form.
//
// Valid: water near 15 C, turbulent flow, pipes of 50 mm and more; C 60 to 160.
//
// Worked: HazenWilliams("solver", 0.0012618039, 0.0525018, 30.48, 150) = 0.222330
//
// Worked: HazenWilliams("si", 0.0438, 0.3048, 1000, 100) = 2.095
//
// Worked: HazenWilliams("handbook", 0.0012618039, 0.0525018, 30.48, 150) = 0.223647
func HazenWilliams(form HazenWilliamsForm, flow, bore, length, c float64) (float64, error) {
	const name = "hazen-williams"
	a, m, p, ok := form.constants()
	err := check(name).known(ok, "form", string(form), "solver, si or handbook").
		notNegative("flow", flow).positive("bore", bore).notNegative("length", length).positive("C", c).done()
	if err != nil {
		return 0, err
	}
	return finiteResult(name, a*length*math.Pow(flow/c, m)/math.Pow(bore, p))
}

// DarcyWeisbach is the friction loss of a full pipe for a known friction factor.
//
//	h = f (L/D) V^2 / (2 g)
//
// Source: Darcy-Weisbach (infinitelexicon.pages.dev/DarcyWeisbach, checked).
//
// Symbols: f friction factor, -; L length, m; D bore, m; V velocity, m/s; g, m/s2; h, m.
//
// Valid: steady flow in a full pipe.
//
// Worked: DarcyWeisbach(0.027873939, 30.48, 0.0525018, 0.291423, 9.8066352) = 0.0700707
func DarcyWeisbach(factor, length, bore, velocity, gravity float64) (float64, error) {
	const name = "darcy-weisbach"
	err := check(name).notNegative("friction factor", factor).notNegative("length", length).positive("bore", bore).
		notNegative("velocity", velocity).positive("gravity", gravity).done()
	if err != nil {
		return 0, err
	}
	return finiteResult(name, factor*length/bore*velocity*velocity/(2*gravity))
}

// FullVelocity is the mean velocity of a full pipe.
//
//	V = Q / (pi D^2 / 4)
//
// Source: continuity.
//
// Symbols: Q flow, m3/s; D bore, m; V, m/s.
//
// Valid: Q >= 0, D > 0.
//
// Worked: FullVelocity(0.0025, 0.0514) = 1.20482
func FullVelocity(flow, bore float64) (float64, error) {
	if err := check("velocity").notNegative("flow", flow).positive("bore", bore).done(); err != nil {
		return 0, err
	}
	return finiteResult("velocity", flow/(math.Pi*bore*bore/4))
}

// MinorLoss is the loss of fittings and valves.
//
//	h = K V^2 / (2 g)
//
// Source: EPANET source code (0.02517 K Q^2/d^4 in feet is the same with g 32.2 ft/s2, checked).
//
// Symbols: K sum of loss coefficients, -; V velocity, m/s; g, m/s2; h, m.
//
// Valid: turbulent flow; K referred to the velocity V.
//
// Worked: MinorLoss(4, 1.2048248, 9.80665) = 0.296045
func MinorLoss(k, velocity, gravity float64) (float64, error) {
	err := check("minor loss").notNegative("K", k).notNegative("velocity", velocity).positive("gravity", gravity).done()
	if err != nil {
		return 0, err
	}
	return finiteResult("minor loss", k*velocity*velocity/(2*gravity))
}

// Friction is how a pipe resists flow. Hazen-Williams uses C and Form,
// the other methods use Roughness.
type Friction struct {
	Method    FrictionMethod
	C         float64
	Form      HazenWilliamsForm
	Roughness float64 // m
}

// Pipe is one full pipe of one bore with its fittings.
type Pipe struct {
	Bore     float64 // m
	Length   float64 // m, developed, equivalent lengths of fittings included
	K        float64 // sum of loss coefficients of fittings not taken as lengths
	Friction Friction
}

// Loss is the head lost in a pipe, by part.
type Loss struct {
	Velocity float64 // m/s
	Reynolds float64
	Factor   float64 // Darcy friction factor, 0 for Hazen-Williams
	Friction float64 // m
	Minor    float64 // m
	Total    float64 // m
}

// Loss is the head lost by a flow in the pipe.
//
//	h = hfriction(method) + K V^2 / (2 g)
//
// Source: the friction method and MinorLoss.
//
// Symbols: Q flow, m3/s; D bore, m; L length, m; C; K; h, m.
//
// Valid: as the friction method; e/D <= 0.05. No flow loses no head.
//
// Worked: Pipe.Loss(Q 0.0025, D 0.0514, L 40, C 140, K 4).Total = 1.600
func (p Pipe) Loss(flow float64, water Water) (Loss, error) {
	c := check("pipe loss").notNegative("flow", flow).positive("bore", p.Bore).notNegative("length", p.Length).notNegative("K", p.K)
	if err := water.check(c).done(); err != nil {
		return Loss{}, err
	}
	var l Loss
	var err error
	if l.Velocity, err = FullVelocity(flow, p.Bore); err != nil {
		return Loss{}, err
	}
	if l.Reynolds, err = Reynolds(l.Velocity, p.Bore, water.Viscosity); err != nil {
		return Loss{}, err
	}
	if l.Minor, err = MinorLoss(p.K, l.Velocity, water.Gravity); err != nil {
		return Loss{}, err
	}
	if l.Friction, l.Factor, err = p.frictionLoss(flow, l, water); err != nil {
		return Loss{}, err
	}
	l.Total, err = finiteResult("pipe loss", l.Friction+l.Minor)
	return l, err
}

func (p Pipe) frictionLoss(flow float64, l Loss, water Water) (loss, factor float64, err error) {
	if p.Friction.Method == ByHazenWilliams {
		loss, err = HazenWilliams(p.Friction.Form, flow, p.Bore, p.Length, p.Friction.C)
		return loss, 0, err
	}
	reynolds := l.Reynolds
	if reynolds == 0 {
		reynolds = 1 // still water loses nothing, but a bad roughness is still refused
	}
	if factor, err = FrictionFactor(p.Friction.Method, reynolds, p.Friction.Roughness/p.Bore); err != nil {
		return 0, 0, err
	}
	loss, err = DarcyWeisbach(factor, p.Length, p.Bore, l.Velocity, water.Gravity)
	return loss, factor, err
}

// GradeLine is the head at the start of a line and after each pipe in turn.
//
//	H(i+1) = H(i) - h(i)
//
// Source: energy equation, velocity heads taken into K where bores change.
//
// Symbols: H head, m above datum; Q flow, m3/s; h loss of a pipe, m.
//
// Valid: as Pipe.Loss; a steady flow without branches.
//
// Worked: GradeLine(10, Q 0.0025, D 0.0514, L 40, C 140, K 4)[1] = 8.400
func GradeLine(start, flow float64, water Water, pipes ...Pipe) ([]float64, error) {
	if err := check("grade line").finite("start", start).done(); err != nil {
		return nil, err
	}
	line := []float64{start}
	for _, p := range pipes {
		l, err := p.Loss(flow, water)
		if err != nil {
			return nil, err
		}
		line = append(line, line[len(line)-1]-l.Total)
	}
	return line, nil
}
