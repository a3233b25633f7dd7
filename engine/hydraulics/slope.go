package hydraulics

// Fall is the drop of a drain over its run.
//
//	fall = L S
//
// Source: geometry; used as common practice for drains, where the length of
// pipe and its level projection are taken as equal (0.02 % apart at 2 %).
//
// Symbols: L run, m; S slope, m/m; result m.
//
// Valid: L >= 0, S finite (negative against the flow).
//
// Worked: Fall(12.192, 0.010416667) = 0.12700
func Fall(run, slope float64) (float64, error) {
	if err := check("fall").notNegative("run", run).finite("slope", slope).done(); err != nil {
		return 0, err
	}
	return finiteResult("fall", run*slope)
}

// SlopeOf is the slope of a drain that drops by fall over its run.
//
//	S = fall / L
//
// Source: geometry.
//
// Symbols: fall, m; L run, m; result m/m.
//
// Valid: L > 0, fall finite (negative against the flow).
//
// Worked: SlopeOf(0.2032, 9.7536) = 0.0208333
func SlopeOf(fall, run float64) (float64, error) {
	if err := check("slope").finite("fall", fall).positive("run", run).done(); err != nil {
		return 0, err
	}
	return finiteResult("slope", fall/run)
}

// RunFor is the longest run that a given fall allows at a slope.
//
//	L = fall / S
//
// Source: geometry.
//
// Symbols: fall, m; S slope, m/m; result m.
//
// Valid: fall >= 0, S > 0.
//
// Worked: RunFor(0.127, 0.010416667) = 12.1920
func RunFor(fall, slope float64) (float64, error) {
	if err := check("run").notNegative("fall", fall).positive("slope", slope).done(); err != nil {
		return 0, err
	}
	return finiteResult("run", fall/slope)
}

// InvertAt is the invert of a drain at a distance downstream.
//
//	z = z0 - x S
//
// Source: geometry.
//
// Symbols: z0 upstream invert, m above datum; x distance in the direction of
// flow, m; S slope, m/m; result m above datum.
//
// Valid: x >= 0, z0 and S finite.
//
// Worked: InvertAt(10, 6, 0.02) = 9.880
func InvertAt(upstream, distance, slope float64) (float64, error) {
	err := check("invert").finite("upstream invert", upstream).notNegative("distance", distance).
		finite("slope", slope).done()
	if err != nil {
		return 0, err
	}
	return finiteResult("invert", upstream-distance*slope)
}
