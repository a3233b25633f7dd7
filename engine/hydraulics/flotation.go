package hydraulics

import "math"

// Unit weights, N/m3.
const poundPerCubicFoot = 0.45359237 * Gravity / (foot * foot * foot)

const (
	// UnitWeightWater is 62.4 lb/ft3 (common practice).
	UnitWeightWater = 62.4 * poundPerCubicFoot
	// UnitWeightConcrete is 150 lb/ft3 (dam design criteria, Appendix F, checked).
	UnitWeightConcrete = 150 * poundPerCubicFoot
)

// Buried is an empty basin in the ground with a slab or ballast ring cast to
// its foot. Heights count from the base of the basin upward, depths from grade.
type Buried struct {
	BasinArea    float64 // m2, outside plan of the basin
	BasinHeight  float64 // m
	BasinWeight  float64 // N, empty, with its fixed equipment
	Cover        float64 // m, soil over the lid
	SlabArea     float64 // m2, plan of the slab under the basin; 0 without
	SlabHeight   float64 // m
	Water        float64 // N/m3, unit weight
	Concrete     float64 // N/m3, unit weight in air
	SoilSoaked   float64 // N/m3, saturated unit weight
	SoilMoist    float64 // N/m3, unit weight above ground water
	GroundWater  float64 // m, depth of ground water below grade
	IgnoringSoil bool    // counts no soil, as during construction
}

// Uplift is the balance of a buried basin.
type Uplift struct {
	Submerged     bool    // false when ground water stays under it: Factor has no meaning and is 0
	Displaced     float64 // m3
	Force         float64 // N, upward
	ConcreteForce float64 // N
	SoilOverLid   float64 // N
	SoilOverLedge float64 // N
	Resisting     float64 // N, everything that holds down
	Factor        float64 // Resisting over Force
	Net           float64 // N, down; negative floats
}

func (b Buried) check(c *checker) *checker {
	return c.positive("basin area", b.BasinArea).positive("basin height", b.BasinHeight).notNegative("basin weight", b.BasinWeight).
		notNegative("cover", b.Cover).notNegative("slab area", b.SlabArea).notNegative("slab height", b.SlabHeight).
		positive("unit weight of water", b.Water).positive("unit weight of concrete", b.Concrete).
		positive("saturated unit weight of soil", b.SoilSoaked).positive("moist unit weight of soil", b.SoilMoist).
		need(b.SoilSoaked >= b.Water, "saturated unit weight of soil", b.SoilSoaked, "at least that of water").
		notNegative("depth of ground water", b.GroundWater)
}

// wet is how much of the depth between top and bottom lies in ground water.
func (b Buried) wet(top, bottom float64) float64 {
	return math.Max(0, bottom-math.Max(top, b.GroundWater))
}

func (b Buried) soil(area, top, bottom float64) float64 {
	wet := b.wet(top, bottom)
	return area * (wet*(b.SoilSoaked-b.Water) + (bottom-top-wet)*b.SoilMoist)
}

// Balance is the factor of safety of a buried basin against floating.
//
//	SF = (W + Wc + Ws) / U, U = gw (Vbasin + Vslab below ground water)
//
// Source: ETL 1110-2-307 and EM 1110-2-2100 sec. 3.8 (checked), for an empty
// basin: concrete at full weight with its volume inside the uplift, soil below
// ground water at saturated less water, soil straight above lid and ledge only.
//
// Symbols: W basin, Wc concrete, Ws soil, U uplift, N; gw unit weight of
// water, N/m3; V volumes, m3; SF, -.
//
// Valid: still ground water, level grade, no friction at the walls.
//
// Worked: Buried.Balance(basin 30 in x 48 in, 95 lb; slab 36 in x 6 in; soil 125 pcf; water at grade).Factor = 0.80647
func (b Buried) Balance() (Uplift, error) {
	const name = "flotation"
	if err := b.check(check(name)).done(); err != nil {
		return Uplift{}, err
	}
	lid, base := b.Cover, b.Cover+b.BasinHeight
	u := Uplift{ConcreteForce: b.SlabArea * b.SlabHeight * b.Concrete}
	u.Displaced = b.BasinArea*b.wet(lid, base) + b.SlabArea*b.wet(base, base+b.SlabHeight)
	u.Force = b.Water * u.Displaced
	if !b.IgnoringSoil {
		u.SoilOverLid = b.soil(b.BasinArea, 0, lid)
		u.SoilOverLedge = b.soil(math.Max(0, b.SlabArea-b.BasinArea), 0, base)
	}
	u.Resisting = b.BasinWeight + u.ConcreteForce + u.SoilOverLid + u.SoilOverLedge
	u.Net = u.Resisting - u.Force
	if u.Submerged = u.Force > 0; u.Submerged {
		u.Factor = u.Resisting / u.Force
	}
	if err := check(name).finite("uplift", u.Force).finite("resisting force", u.Resisting).finite("factor", u.Factor).done(); err != nil {
		return Uplift{}, err
	}
	return u, nil
}

// BallastWeight is the weight to add above ground water, or inside the basin,
// for a required factor of safety.
//
//	W = SF U - R, at least 0
//
// Source: the balance above solved for weight.
//
// Symbols: SF required factor, -; U uplift, R resisting force, N; W, N.
//
// Valid: SF > 0; weight that displaces no more water.
//
// Worked: BallastWeight(uplift 19802, resisting 11000, 1) = 8802
func BallastWeight(u Uplift, factor float64) (float64, error) {
	const name = "ballast weight"
	err := check(name).notNegative("uplift", u.Force).notNegative("resisting force", u.Resisting).positive("factor", factor).done()
	if err != nil {
		return 0, err
	}
	return finiteResult(name, math.Max(0, factor*u.Force-u.Resisting))
}

// BallastVolume is the concrete to add under ground water for a required
// factor of safety; it displaces water itself.
//
//	Vc = (SF U - R) / (gc - SF gw), at least 0
//
// Source: the balance above solved for volume.
//
// Symbols: SF required factor, -; U uplift, R resisting force, N; gc, gw unit
// weights of concrete and water, N/m3; Vc, m3.
//
// Valid: gc > SF gw, else no amount of concrete is enough (an InputError).
// Soil that the added concrete pushes aside is not counted.
//
// Worked: BallastVolume(uplift 6431.0, resisting 5186.5, 1.5, 23563, 9802.3) = 0.5034
func BallastVolume(u Uplift, factor, concrete, water float64) (float64, error) {
	const name = "ballast volume"
	err := check(name).positive("unit weight of water", water).positive("unit weight of concrete", concrete).positive("factor", factor).
		need(concrete > factor*water, "factor", factor, "less than the weight ratio of concrete to water").done()
	if err != nil {
		return 0, err
	}
	weight, err := BallastWeight(u, factor)
	if err != nil {
		return 0, err
	}
	return finiteResult(name, weight/(concrete-factor*water))
}

// SubmergedFromDry is the submerged unit weight of a soil from its dry one.
//
//	gsub = gdry (1 - 1/G)
//
// Source: manhole flotation worksheet after association Design Data 41
// (vi.scribd.com/document/360362325, checked).
//
// Symbols: gdry dry unit weight, N/m3; G specific gravity of the grains, -; result N/m3.
//
// Valid: gdry > 0, G > 1.
//
// Worked: SubmergedFromDry(18850.5, 2.75) = 11995.8
func SubmergedFromDry(dry, grains float64) (float64, error) {
	err := check("submerged soil").positive("dry unit weight", dry).positive("specific gravity", grains).
		need(grains > 1, "specific gravity", grains, "more than 1").done()
	if err != nil {
		return 0, err
	}
	return finiteResult("submerged soil", dry*(1-1/grains))
}
