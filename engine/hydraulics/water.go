package hydraulics

// Gravity is the standard acceleration of free fall, m/s2 (exact by
// definition, 3rd General Conference on Weights and Measures, 1901).
const Gravity = 9.80665

// Densities, kg/m3, and kinematic viscosities, m2/s, of water.
// Source: water properties table of London South Bank University,
// www1.lsbu.ac.uk/water/data1.html (checked): 999.7 kg/m3 and 1.307 mPa s at
// 10 C, 998.2 kg/m3 and 1.002 mPa s at 20 C; viscosity here is their quotient.
const (
	Density10C   = 999.7
	Density20C   = 998.2
	Viscosity10C = 1.307e-3 / Density10C
	Viscosity20C = 1.002e-3 / Density20C
)

// ViscosityDrainage is the kinematic viscosity, m2/s, used in European
// capacity tables for drains. Source: EN 12056-2 Annex B (from memory).
const ViscosityDrainage = 1.31e-6

// What the reference network solver takes for water: 1.1e-5 ft2/s and
// 32.2 ft/s2. Source: EPANET source code, types.h and hydcoeffs.c (checked).
const (
	viscositySolver = 1.1e-5 * foot * foot
	gravitySolver   = 32.2 * foot
)

// Exact by definition (international yard and pound, US gallon of 231 in3).
const (
	inch            = 0.0254
	foot            = 12 * inch
	gallon          = 231 * inch * inch * inch
	gallonPerMinute = gallon / 60
	litre           = 1e-3
	hour            = 3600
)

// Water is what a formula needs to know about the liquid and the place.
type Water struct {
	Density   float64 // kg/m3
	Viscosity float64 // m2/s, kinematic
	Gravity   float64 // m/s2
}

// WaterAt10C is cold water.
func WaterAt10C() Water { return Water{Density10C, Viscosity10C, Gravity} }

// WaterAt20C is water at room temperature.
func WaterAt20C() Water { return Water{Density20C, Viscosity20C, Gravity} }

// SolverWater is water as the reference network solver takes it; use it only
// to compare with that solver's numbers.
func SolverWater() Water { return Water{1000, viscositySolver, gravitySolver} }

func (w Water) check(c *checker) *checker {
	return c.positive("density", w.Density).positive("viscosity", w.Viscosity).positive("gravity", w.Gravity)
}
