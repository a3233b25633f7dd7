package hydraulics

import "math"

const bisectionLimit = 200

// bisect finds where f changes sign between low and high. It needs f(low) and
// f(high) of opposite sign or zero, and gives up with the numbers in the error
// when limit steps do not narrow the root to tolerance.
func bisect(formula string, f func(float64) (float64, error), low, high, tolerance float64, limit int) (float64, int, error) {
	atLow, err := f(low)
	if err != nil {
		return 0, 0, err
	}
	middle, residual := low, atLow
	for i := 1; i <= limit; i++ {
		middle = low + (high-low)/2
		if residual, err = f(middle); err != nil {
			return 0, i, err
		}
		if math.IsNaN(residual) {
			return 0, i, &ConvergenceError{formula, i, low, high, residual}
		}
		if residual == 0 || high-low <= tolerance || middle == low || middle == high {
			return middle, i, nil
		}
		if (residual > 0) == (atLow > 0) {
			low = middle
		} else {
			high = middle
		}
	}
	return 0, limit, &ConvergenceError{formula, limit, low, high, residual}
}
