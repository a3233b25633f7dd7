package hydraulics

import "math"

// Vessel is a basin by its plan: Round, Rectangular or Tapered.
type Vessel interface {
	// VolumeTo is the volume, m3, from the floor up to a height, m.
	VolumeTo(height float64) (float64, error)
}

// Round is an upright cylinder.
type Round struct {
	Diameter float64 // m, inside
}

// VolumeTo is the volume of a cylinder.
//
//	V = pi d^2 h / 4
//
// Source: geometry.
//
// Symbols: d inside diameter, m; h height, m; V, m3.
//
// Valid: d > 0, h >= 0.
//
// Worked: Round.VolumeTo(0.6, 0.25) = 0.070686
func (r Round) VolumeTo(height float64) (float64, error) {
	if err := check("round basin").positive("diameter", r.Diameter).notNegative("height", height).done(); err != nil {
		return 0, err
	}
	return finiteResult("round basin", math.Pi*r.Diameter*r.Diameter*height/4)
}

// Rectangular is an upright box.
type Rectangular struct {
	Length, Width float64 // m, inside
}

// VolumeTo is the volume of a box.
//
//	V = a b h
//
// Source: geometry.
//
// Symbols: a, b inside length and width, m; h height, m; V, m3.
//
// Valid: a, b > 0, h >= 0.
//
// Worked: Rectangular.VolumeTo(4.572, 3.6576, 0.9144) = 15.2911
func (r Rectangular) VolumeTo(height float64) (float64, error) {
	err := check("rectangular basin").positive("length", r.Length).positive("width", r.Width).notNegative("height", height).done()
	if err != nil {
		return 0, err
	}
	return finiteResult("rectangular basin", r.Length*r.Width*height)
}

// Tapered is an upright cone frustum, as moulded basins are.
type Tapered struct {
	Bottom, Top float64 // m, inside diameters
	Height      float64 // m, between them
}

// VolumeTo is the volume of a frustum up to a height inside it.
//
//	V = pi h (b^2 + b t + t^2) / 12, t = b + (B - b) h/H
//
// Source: geometry.
//
// Symbols: b bottom, B top inside diameter, m; H height between them, m; h height, m; V, m3.
//
// Valid: diameters and H > 0, 0 <= h <= H.
//
// Worked: Tapered.VolumeTo(0.5, 0.7, 1.0, 1.0) = 0.285361
func (t Tapered) VolumeTo(height float64) (float64, error) {
	const name = "tapered basin"
	c := check(name).positive("bottom diameter", t.Bottom).positive("top diameter", t.Top).positive("height of basin", t.Height)
	if c.err == nil {
		c.between("height", height, 0, t.Height)
	}
	if err := c.done(); err != nil {
		return 0, err
	}
	top := t.Bottom + (t.Top-t.Bottom)*height/t.Height
	return finiteResult(name, math.Pi*height*(t.Bottom*t.Bottom+t.Bottom*top+top*top)/12)
}

// VolumeBetween is the volume between two levels of a basin; between stop and
// start level it is the active volume, between start and inlet the reserve.
//
//	V = V(high) - V(low)
//
// Source: geometry.
//
// Symbols: levels above the floor, m; V, m3.
//
// Valid: 0 <= low <= high.
//
// Worked: VolumeBetween(Round 0.6, 0.1, 0.35) = 0.070686
func VolumeBetween(v Vessel, low, high float64) (float64, error) {
	err := check("volume between levels").notNegative("low level", low).notNegative("high level", high).
		need(low <= high, "low level", low, "at most the high level").done()
	if err != nil {
		return 0, err
	}
	below, err := v.VolumeTo(low)
	if err != nil {
		return 0, err
	}
	to, err := v.VolumeTo(high)
	if err != nil {
		return 0, err
	}
	return to - below, nil
}

// PipeVolume is the water a full pipe holds. Over the length that empties
// backwards when a pump stops it is the drain-back.
//
//	V = pi D^2 L / 4
//
// Source: geometry. Which length drains back is a fact of the design: to the
// check valve, or the whole line where there is none.
//
// Symbols: D bore, m; L length, m; V, m3.
//
// Valid: D > 0, L >= 0.
//
// Worked: PipeVolume(0.0514, 12) = 0.0248999
func PipeVolume(bore, length float64) (float64, error) {
	if err := check("pipe volume").positive("bore", bore).notNegative("length", length).done(); err != nil {
		return 0, err
	}
	return finiteResult("pipe volume", math.Pi*bore*bore*length/4)
}

// Retention is how long an inflow takes to renew a volume; with the reserve
// above the start level it is the storage when power fails.
//
//	t = V / Q
//
// Source: continuity.
//
// Symbols: V volume, m3; Q mean inflow, m3/s; t, s.
//
// Valid: V >= 0, Q > 0, no outflow meanwhile.
//
// Worked: Retention(0.190852, 0.001) = 190.852
func Retention(volume, inflow float64) (float64, error) {
	if err := check("retention").notNegative("volume", volume).positive("inflow", inflow).done(); err != nil {
		return 0, err
	}
	return finiteResult("retention", volume/inflow)
}

// LevelRise is how fast the level rises while inflow exceeds the pump rate;
// it is negative while the pump draws down.
//
//	dz/dt = (Qi - Qp) / A
//
// Source: continuity; wastewater101.net/2019/08/time-for-math-33 works it
// backwards (checked).
//
// Symbols: Qi inflow, Qp pump rate, m3/s; A plan area, m2; result m/s.
//
// Valid: Qi, Qp >= 0, A > 0 and constant over the rise.
//
// Worked: LevelRise(0.0018528, 0, 29.1864) = 6.348e-5
func LevelRise(inflow, pumpRate, area float64) (float64, error) {
	err := check("level rise").notNegative("inflow", inflow).notNegative("pump rate", pumpRate).positive("area", area).done()
	if err != nil {
		return 0, err
	}
	return finiteResult("level rise", (inflow-pumpRate)/area)
}
