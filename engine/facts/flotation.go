package facts

import (
	"fmt"
	"math"

	"backpitch/engine/calcs"
	"backpitch/engine/design"
	"backpitch/engine/hydraulics"
)

const weightScale = 1e3 // g in a kg

// Unit weights, N/m3, where the design states none: soil of 100 lb/ft3 moist
// and 125 lb/ft3 soaked (common practice, from memory).
const (
	soilMoist  = 100 * hydraulics.UnitWeightWater / 62.4
	soilSoaked = 125 * hydraulics.UnitWeightWater / 62.4
)

// flotation is the weight that holds an empty basin down over its uplift, and
// what is missing to the factor the profile asks for. Absent where ground water
// stays below the basin, or is not stated.
func (v *derivation) flotation(b *design.Basin, o *Basin) {
	x, ok := buried(b)
	if !ok {
		return
	}
	u, err := x.Balance()
	if err != nil {
		v.notComputed(b.Position, fmt.Sprintf("basin %q", b.ID), "flotation", err)
		return
	}
	if !u.Submerged {
		v.rec.Gap(b.ID, "flotation", "the stated ground water stays below the basin")
		return
	}
	o.Flotation = toFixed(u.Factor, factorScale)
	soil := u.SoilOverLid + u.SoilOverLedge
	v.rec.Step(calcs.Raw{Formula: "uplift", Subject: b.ID, Values: []float64{x.Water, u.Displaced}, Result: u.Force})
	v.rec.Step(calcs.Raw{Formula: "flotation_factor", Subject: b.ID, Fact: "flotation_factor",
		Values: []float64{x.BasinWeight, u.ConcreteForce, soil, u.Force}, Result: u.Factor})
	least, ok := v.t.LeastFlotation()
	if !ok {
		return
	}
	factor := float64(least) / factorScale
	if w, err := hydraulics.BallastWeight(u, factor); err == nil {
		o.BallastNeeded = toFixed(w/hydraulics.Gravity, weightScale)
		v.rec.Step(calcs.Raw{Formula: "ballast", Subject: b.ID, Fact: "ballast_needed", Values: []float64{factor, u.Force, u.Resisting}, Result: w})
	}
	if c, err := hydraulics.BallastVolume(u, factor, x.Concrete, x.Water); err == nil {
		o.ConcreteNeeded = toFixed(c, volumeScale)
		v.rec.Step(calcs.Raw{Formula: "ballast_concrete", Subject: b.ID, Fact: "concrete_needed",
			Values: []float64{factor, u.Force, u.Resisting, x.Concrete, x.Water}, Result: c})
	} else {
		v.rec.Gap(b.ID, "concrete under ground water", err.Error())
	}
}

// buried is a basin in the ground as stated. The outside diameter, and for a
// rectangle the plan, is taken for the outside; the basin reaches from its
// floor to its cover, its thickness neglected.
func buried(b *design.Basin) (hydraulics.Buried, bool) {
	depth, grade, floor, water := b.Depth.SI(), metres(b.Grade), metres(b.Floor), metres(b.GroundWater)
	if depth <= 0 || grade == nil || floor == nil || water == nil || b.Weight.IsZero() {
		return hydraulics.Buried{}, false
	}
	area := 0.0
	switch d := b.Outside.SI(); {
	case d > 0:
		area = math.Pi * d * d / 4
	case b.PlanLength.SI() > 0:
		area = b.PlanLength.SI() * b.PlanWidth.SI()
	case b.Diameter.SI() > 0:
		area = math.Pi * b.Diameter.SI() * b.Diameter.SI() / 4
	}
	if area <= 0 {
		return hydraulics.Buried{}, false
	}
	below, _ := sub(grade, floor).Float64() // of the base
	wet, _ := sub(grade, water).Float64()
	x := hydraulics.Buried{
		BasinArea: area, BasinHeight: depth, BasinWeight: (b.Weight.SI() + b.Ballast.SI()) * hydraulics.Gravity,
		Cover: math.Max(0, below-depth), Water: hydraulics.UnitWeightWater, Concrete: hydraulics.UnitWeightConcrete,
		SoilMoist: soilMoist, SoilSoaked: soilSoaked, GroundWater: math.Max(0, wet),
	}
	if s := b.Slab; s != nil {
		x.SlabArea, x.SlabHeight = math.Pi*s.Diameter.SI()*s.Diameter.SI()/4, s.Thickness.SI()
		for _, w := range []struct {
			stated design.Density
			into   *float64
		}{{s.Density, &x.Concrete}, {s.SoilMoist, &x.SoilMoist}, {s.SoilSat, &x.SoilSoaked}} {
			if !w.stated.IsZero() {
				*w.into = w.stated.SI() * hydraulics.Gravity
			}
		}
	}
	return x, true
}
