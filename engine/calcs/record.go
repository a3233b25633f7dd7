// Package calcs is the calculation sheet: what was computed, step by step, so
// that a reviewer can follow it with a pocket calculator.
//
// What enters: a Record that package facts writes while it derives the facts,
// so that there is one computation and not two, in SI units. What leaves: a
// Sheet of plain data in the units of a profile, each step with its formula,
// the numbers put in, the result, and the limits it was judged against.
//
// It refuses to compute anything about water: the formulas here are text and
// legends, and the one arithmetic is the change of units.
package calcs

import "math"

// Record is what a derivation wrote down. A nil Record takes nothing.
type Record struct {
	Steps  []Raw
	Pumps  []Pump
	Basins []Basin
	Gaps   []Gap
}

// Raw is one step in SI units.
type Raw struct {
	Formula string    // id in the catalogue
	Subject string    // element id
	Part    string    // what of the subject it is about, such as a pipe of a line; may be empty
	Fact    string    // the fact of the subject that it yields; empty for a step on the way
	Values  []float64 // of the formula's symbols, in their order
	Result  float64
	Low     *float64 // result at the low end, where the inputs are not exact
	High    *float64
	Basis   string // checked, from memory, common practice: of the inputs
	Note    string
}

// Gap is what could not be computed, and why.
type Gap struct {
	Subject string `json:"subject"`
	What    string `json:"what"`
	Why     string `json:"why"`
}

// Point is one point of a curve: m3/s, m.
type Point struct{ Flow, Head float64 }

// Operating is where a pump curve and a system curve meet.
type Operating struct {
	Status string // found, static_above_shut_off, beyond_last_point, before_first_point
	At     Point
}

// Pump is the chart of one pump against its line.
type Pump struct {
	ID        string
	Curve     []Point
	Model     string  // segments or three_point
	Tolerance float64 // per cent of head
	Static    float64 // m
	Friction  string
	// System curves and operating points: least loss with the curve at its high
	// end, as expected, most loss with the curve at its low end.
	System    [3][]Point
	Operating [3]Operating
	Together  *Together // where it shares its line with others
}

// Together is where pumps of one basin run at once.
type Together struct {
	Pumps []string
	Flow  [3]float64 // m3/s at the low end, expected, at the high end
	Head  float64    // m, expected
}

// Basin has the levels of one basin above its floor and what it holds below
// each, lowest first.
type Basin struct {
	ID     string
	Levels []Level
}

// Level is one level of a basin.
type Level struct {
	Name   string  // stop, start, second start, alarm, inlet, cover
	Height float64 // m above the floor
	Volume float64 // m3 below it
}

// Step writes a step down.
func (r *Record) Step(s Raw) {
	if r != nil {
		r.Steps = append(r.Steps, s)
	}
}

// Gap writes down what could not be computed.
func (r *Record) Gap(subject, what, why string) {
	if r != nil {
		r.Gaps = append(r.Gaps, Gap{subject, what, why})
	}
}

// finite says that every number of the step is one.
func (s Raw) finite() bool {
	list := append([]float64{s.Result}, s.Values...)
	for _, end := range []*float64{s.Low, s.High} {
		if end != nil {
			list = append(list, *end)
		}
	}
	for _, x := range list {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}
