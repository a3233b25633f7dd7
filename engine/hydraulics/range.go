package hydraulics

import "math"

// Range is an uncertain quantity. Low <= Expected <= High.
type Range struct {
	Low, Expected, High float64
}

// NewRange refuses values that are not finite or out of order.
func NewRange(low, expected, high float64) (Range, error) {
	err := check("range").finite("low", low).finite("expected", expected).finite("high", high).
		need(low <= expected, "expected", expected, "at least low").
		need(expected <= high, "high", high, "at least expected").done()
	if err != nil {
		return Range{}, err
	}
	return Range{low, expected, high}, nil
}

// Exactly is a quantity without uncertainty.
func Exactly(v float64) Range { return Range{v, v, v} }

// Through carries a range through a formula that only rises or only falls with
// the quantity: the ends are put in order again, the expected value is computed
// from the expected value. A formula that turns inside the range gives an
// error, because its ends would hide the turn.
func (r Range) Through(formula func(float64) (float64, error)) (Range, error) {
	var at [3]float64
	for i, v := range [3]float64{r.Low, r.Expected, r.High} {
		var err error
		if at[i], err = formula(v); err != nil {
			return Range{}, err
		}
	}
	return NewRange(math.Min(at[0], at[2]), at[1], math.Max(at[0], at[2]))
}

// Contains tells whether v lies in the range, its ends included.
func (r Range) Contains(v float64) bool { return v >= r.Low && v <= r.High }

// Plus adds two ranges end by end (the widest sum, as for errors that may all
// fall the same way).
func (r Range) Plus(other Range) Range {
	return Range{r.Low + other.Low, r.Expected + other.Expected, r.High + other.High}
}
