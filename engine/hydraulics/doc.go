// Package hydraulics holds the formulas of building drainage as pure functions.
//
// What enters: float64 in SI units (metres, cubic metres, seconds, kilograms,
// newtons). What leaves: the same, or an error.
// Three kinds of error carry their numbers: InputError (a quantity outside the
// range of a formula), RangeError (a value outside a table or a pump curve)
// and ConvergenceError (a bounded iteration that did not settle). A result is
// never NaN or infinite, and nothing is extrapolated.
//
// Every formula states its source, its symbols with units, the range in which
// it holds and one worked value. The worked lines are read by a test, which
// computes each of them again.
//
// Gravity flow: AtFilling and AtFlow with a Law (Manning or ColebrookWhite).
// Pressure flow: Pipe.Loss. Pumps: NewCurve and OperatingPoint. Basins: Vessel,
// Duty and Buried. Loads: FlowTable and DischargeUnits.
//
// What it refuses to do: it knows no code section and no limit, judges nothing,
// reads no file and no unit text, and gives no water hammer, no unsteady flow,
// no stack or vent air flow and no net positive suction head.
package hydraulics
