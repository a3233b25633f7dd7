package quantity

// Exact factors of NIST SP 811 (2008), appendix B.8 and B.9, as terms of the
// fractions below. Water columns are the conventional ones of SP 811:
// 1000 kg/m3 under standard gravity, 9.80665 m/s2; mercury 13 595.1 kg/m3.
const (
	inch3  = 254 * 254 * 254      // 1e-12 m3
	gallon = 231 * inch3          // 1e-12 m3
	foot3  = 12 * 12 * 12 * inch3 // 1e-12 m3
	pound  = 45359237             // 1e-8 kg
	grav   = 980665               // 1e-5 m/s2
	trill  = 1_000_000_000_000
)

// kindTable lists the kinds and their units. The first unit of a kind is the
// one FromFixed writes in, a usual SI unit that holds whole fixed units.
var kindTable = []kindInfo{
	{kind: Length, fixed: "micrometre", scale: 1e6, signed: true, usual: []string{"in", "ft", "mm"}, units: []unit{
		{symbol: "mm", num: 1, den: 1000},
		{symbol: "cm", num: 1, den: 100},
		{symbol: "m", num: 1, den: 1},
		{symbol: "in", num: 254, den: 10000, also: []string{"\""}},
		{symbol: "ft", num: 3048, den: 10000, also: []string{"'"}},
	}},
	{kind: Size, fixed: "DN", scale: 1, usual: []string{"in", "DN"}, units: []unit{
		{symbol: "DN", num: 1, den: 1},
		{symbol: "NPS", num: 1, den: 1},
		{symbol: "in", num: 1, den: 1},
	}},
	{kind: Slope, fixed: "part per million", scale: 1e6, signed: true, usual: []string{"in/ft", "%"}, units: []unit{
		{symbol: "%", num: 1, den: 100},
		{symbol: "in/ft", num: 1, den: 12},
		{symbol: "mm/m", num: 1, den: 1000},
		{symbol: "cm/m", num: 1, den: 100},
		{symbol: "m/m", num: 1, den: 1},
		{symbol: "ft/ft", num: 1, den: 1},
		{symbol: "ppm", num: 1, den: 1e6},
	}},
	{kind: Flow, fixed: "millilitre per second", scale: 1e6, usual: []string{"gpm", "L/s"}, units: []unit{
		{symbol: "L/s", num: 1, den: 1000, also: []string{"lps"}},
		{symbol: "L/min", num: 1, den: 60000, also: []string{"lpm"}},
		{symbol: "L/h", num: 1, den: 3600000},
		{symbol: "mL/s", num: 1, den: 1e6},
		{symbol: "m3/h", num: 1, den: 3600},
		{symbol: "m3/s", num: 1, den: 1},
		{symbol: "gpm", num: gallon, den: 60 * trill, also: []string{"gal/min"}},
		{symbol: "gph", num: gallon, den: 3600 * trill, also: []string{"gal/h"}},
		{symbol: "ft3/s", num: foot3, den: trill, also: []string{"cfs", "cu ft/s"}},
	}},
	{kind: Volume, fixed: "millilitre", scale: 1e6, usual: []string{"gal", "L"}, units: []unit{
		{symbol: "L", num: 1, den: 1000, also: []string{"lpf"}},
		{symbol: "mL", num: 1, den: 1e6},
		{symbol: "m3", num: 1, den: 1},
		{symbol: "gal", num: gallon, den: trill, also: []string{"gpf"}},
		{symbol: "ft3", num: foot3, den: trill, also: []string{"cu ft"}},
		{symbol: "in3", num: inch3, den: trill, also: []string{"cu in"}},
	}},
	{kind: Velocity, fixed: "millimetre per second", scale: 1000, usual: []string{"ft/s", "m/s"}, units: []unit{
		{symbol: "m/s", num: 1, den: 1},
		{symbol: "mm/s", num: 1, den: 1000},
		{symbol: "ft/s", num: 3048, den: 10000, also: []string{"fps"}},
	}},
	{kind: Duration, fixed: "millisecond", scale: 1000, usual: []string{"s", "min", "h"}, units: []unit{
		{symbol: "s", num: 1, den: 1},
		{symbol: "ms", num: 1, den: 1000},
		{symbol: "min", num: 60, den: 1},
		{symbol: "h", num: 3600, den: 1},
	}},
	{kind: Weight, fixed: "gram", scale: 1000, usual: []string{"lb", "kg"}, units: []unit{
		{symbol: "kg", num: 1, den: 1},
		{symbol: "g", num: 1, den: 1000},
		{symbol: "t", num: 1000, den: 1},
		{symbol: "lb", num: pound, den: 1e8},
		{symbol: "oz", num: pound, den: 16e8},
	}},
	{kind: Pressure, fixed: "pascal", scale: 1, signed: true, usual: []string{"psi", "in w.c.", "kPa"}, units: []unit{
		{symbol: "Pa", num: 1, den: 1},
		{symbol: "kPa", num: 1000, den: 1},
		{symbol: "bar", num: 100000, den: 1},
		{symbol: "mbar", num: 100, den: 1},
		{symbol: "psi", num: pound * grav, den: 254 * 254 * 100000},
		{symbol: "in w.c.", num: 254 * grav, den: 1e6, also: []string{"in wg", "in h2o", "inh2o", "in of water"}},
		{symbol: "ft w.c.", num: 3048 * grav, den: 1e6, also: []string{"ft wg", "ft h2o", "fth2o", "ft of water"}},
		{symbol: "mm w.c.", num: grav, den: 100000, also: []string{"mm wg", "mm h2o", "mmh2o", "mm of water"}},
		{symbol: "in Hg", num: 135951 * 254 * grav, den: 1e10, also: []string{"inhg", "in of mercury"}},
	}},
	{kind: Angle, fixed: "thousandth of a degree", scale: 1000, signed: true, usual: []string{"deg"}, units: []unit{
		{symbol: "°", num: 1, den: 1, tight: true},
	}},
	{kind: Load, fixed: "thousandth of a fixture unit", scale: 1000, usual: []string{"dfu"}, units: []unit{
		{symbol: "dfu", num: 1, den: 1, also: []string{"fu"}},
	}},
	{kind: DischargeUnit, fixed: "millilitre per second", scale: 1e6, usual: []string{"L/s"}, units: []unit{
		{symbol: "L/s", num: 1, den: 1000},
	}},
	{kind: Ratio, fixed: "part per million", scale: 1e6, usual: []string{"%"}, units: []unit{
		{symbol: "%", num: 1, den: 100},
		{symbol: "ppm", num: 1, den: 1e6},
	}},
	{kind: Factor, fixed: "thousandth", scale: 1000, bare: true, units: []unit{{num: 1, den: 1}}},
	{kind: Count, fixed: "one", scale: 1, bare: true, units: []unit{{num: 1, den: 1}}},
	{kind: Number, fixed: "millionth", scale: 1e6, signed: true, bare: true, units: []unit{{num: 1, den: 1}}},
	// Millionths, so that 2 dfu/gpm (31.70064... dfu/(L/s)) loses nothing that
	// shows, and mL/s times this over 1e6 is thousandths of a fixture unit.
	{kind: LoadPerFlow, fixed: "millionth of a fixture unit per litre per second", scale: 1000, usual: []string{"dfu/gpm", "dfu/(L/s)"}, units: []unit{
		{symbol: "dfu/(L/s)", num: 1000, den: 1, also: []string{"fu/(l/s)", "dfu/l/s", "fu/l/s"}},
		{symbol: "dfu/gpm", num: 60 * trill, den: gallon, also: []string{"fu/gpm"}},
	}},
	{kind: Area, fixed: "square millimetre", scale: 1e6, usual: []string{"ft2", "m2"}, units: []unit{
		{symbol: "m2", num: 1, den: 1},
		{symbol: "cm2", num: 1, den: 10000},
		{symbol: "mm2", num: 1, den: 1e6},
		{symbol: "ft2", num: 3048 * 3048, den: 1e8, also: []string{"sq ft"}},
		{symbol: "in2", num: 254 * 254, den: 1e8, also: []string{"sq in"}},
	}},
	{kind: Density, fixed: "gram per cubic metre", scale: 1000, usual: []string{"lb/ft3", "kg/m3"}, units: []unit{
		{symbol: "kg/m3", num: 1, den: 1},
		{symbol: "lb/ft3", num: pound * 10000, den: foot3, also: []string{"pcf", "lb/cu ft"}},
	}},
}
