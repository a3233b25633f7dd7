package facts

import (
	"backpitch/engine/design"
	"backpitch/engine/hydraulics"
)

// The ends of what is not exact. A pump delivers least through rough pipe at
// the low end of its tolerance, most through smooth pipe at the high end.
const (
	lowEnd = iota
	expected
	highEnd
	ends
)

// spread is a number at the low end, as expected and at the high end; nil where
// it is not known.
type spread [ends]*int64

// exactly is a number without uncertainty.
func exactly(n *int64) spread { return spread{copied(n), copied(n), copied(n)} }

// highFirst gives the low end of a rate its high roughness.
func highFirst(r hydraulics.Range) [ends]float64 { return [ends]float64{r.High, r.Expected, r.Low} }

func lowFirst(r hydraulics.Range) [ends]float64 { return [ends]float64{r.Low, r.Expected, r.High} }

// stated is a range as the design states it. Where the expected value alone is
// stated, it is exact; where it is not, the middle of the ends stands for it.
// An end that is not stated, or lies on the wrong side, is the expected value.
func stated(r *design.Range) (hydraulics.Range, bool) {
	if r == nil {
		return hydraulics.Range{}, false
	}
	var at hydraulics.Range
	switch {
	case r.Expected != nil:
		at = hydraulics.Exactly(*r.Expected)
	case r.Low != nil && r.High != nil:
		at = hydraulics.Exactly((*r.Low + *r.High) / 2)
	default:
		return hydraulics.Range{}, false
	}
	if r.Low != nil && *r.Low < at.Expected {
		at.Low = *r.Low
	}
	if r.High != nil && *r.High > at.Expected {
		at.High = *r.High
	}
	return at, true
}

// plastic says whether the roughness ranges call a material plastic.
func plastic(material string) bool {
	switch material {
	case "pvc_dwv", "abs_dwv", "pvc_sch40", "abs_sch40", "cpvc", "pe", "pvc_u_en", "pe_en", "pp_en":
		return true
	}
	return false
}

// hazenC is C of Hazen-Williams as stated, else the range of the material; its
// ends are new and old pipe.
func hazenC(p *design.Pipe) (hydraulics.Range, bool) {
	if r, ok := stated(p.HazenC); ok {
		return r, true
	}
	kind := "other"
	if plastic(p.Material) {
		kind = "plastic"
	}
	r, ok := hydraulics.HazenWilliamsRange(kind)
	return r.Value, ok
}

// wall is the roughness of a pipe under pressure, in metres. Pipe that is not
// plastic takes that of a drain in service (common practice).
func wall(p *design.Pipe) (hydraulics.Range, bool) {
	kind := "drain"
	if plastic(p.Material) {
		kind = "plastic"
	}
	r, ok := hydraulics.WallRoughnessRange(kind)
	return r.Value, ok
}

// frictions is how a pipe under pressure resists flow at each end.
func frictions(p *design.Pipe, method string) (f [ends]hydraulics.Friction, ok bool) {
	if method == darcyWeisbach {
		r, ok := wall(p)
		for end, e := range highFirst(r) {
			f[end] = hydraulics.Friction{Method: hydraulics.ByColebrook, Roughness: e}
		}
		return f, ok
	}
	r, ok := hazenC(p)
	for end, c := range lowFirst(r) {
		f[end] = hydraulics.Friction{Method: hydraulics.ByHazenWilliams, C: c, Form: hydraulics.FormSolver}
	}
	return f, ok
}

// law is how water runs in a drain at one end.
type law struct {
	hydraulics.Law
	coefficient float64 // n, or roughness in metres
	manning     bool
}

// laws is how water runs in a drain, rough at the low end and smooth at the
// high one: Manning's formula with n as stated, or what the hydraulic package
// has for plastic and for any other pipe; Colebrook-White with the roughness of
// a drain in service where the profile counts so and no n is stated.
func (v *derivation) laws(p *design.Pipe) (l [ends]law, ok bool) {
	r, ok := stated(p.Roughness)
	if !ok && v.t.Gravity() == colebrookWhite {
		rough, ok := hydraulics.WallRoughnessRange("drain")
		for end, k := range highFirst(rough.Value) {
			l[end] = law{hydraulics.EuropeanDrain(k), k, false}
		}
		return l, ok
	}
	if !ok {
		kind := "any"
		if plastic(p.Material) {
			kind = "plastic"
		}
		var tabled hydraulics.RoughnessRange
		tabled, ok = hydraulics.ManningRange(kind)
		r = tabled.Value
	}
	for end, n := range highFirst(r) {
		l[end] = law{hydraulics.Manning{N: n}, n, true}
	}
	return l, ok
}
