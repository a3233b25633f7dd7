package hydraulics

import (
	"fmt"
	"math"
)

// InputError is a quantity outside the range in which a formula holds.
type InputError struct {
	Formula  string
	Quantity string
	Value    float64
	Word     string // in place of Value where the quantity is a name
	Need     string // what the quantity must be
}

func (e *InputError) Error() string {
	if e.Word != "" {
		return fmt.Sprintf("%s: %s is %q, must be %s", e.Formula, e.Quantity, e.Word, e.Need)
	}
	return fmt.Sprintf("%s: %s is %g, must be %s", e.Formula, e.Quantity, e.Value, e.Need)
}

// RangeError is a value outside a table or a pump curve, which is never extrapolated.
type RangeError struct {
	Table     string
	Quantity  string
	Value     float64
	Low, High float64 // what the table covers
}

func (e *RangeError) Error() string {
	return fmt.Sprintf("%s: %s %g is outside %g to %g", e.Table, e.Quantity, e.Value, e.Low, e.High)
}

// ConvergenceError is a bounded iteration that did not settle.
type ConvergenceError struct {
	Formula    string
	Iterations int
	Low, High  float64 // what still holds the root
	Residual   float64 // what is left at the middle
}

func (e *ConvergenceError) Error() string {
	return fmt.Sprintf("%s: no solution after %d iterations between %g and %g, residual %g",
		e.Formula, e.Iterations, e.Low, e.High, e.Residual)
}

// CapacityError is a flow that a drain running under gravity cannot carry.
type CapacityError struct {
	Flow     float64 // m3/s, asked for
	Greatest float64 // m3/s, at the filling that carries most
	Full     float64 // m3/s, running full
}

func (e *CapacityError) Error() string {
	return fmt.Sprintf("gravity flow: %g m3/s is more than the drain carries (%g m3/s at most, %g m3/s full)",
		e.Flow, e.Greatest, e.Full)
}

// checker keeps the first quantity of a formula that is out of range.
type checker struct {
	formula string
	err     *InputError
}

func check(formula string) *checker { return &checker{formula: formula} }

func (c *checker) need(ok bool, quantity string, value float64, need string) *checker {
	if !ok && c.err == nil {
		c.err = &InputError{Formula: c.formula, Quantity: quantity, Value: value, Need: need}
	}
	return c
}

func (c *checker) known(ok bool, quantity, word, need string) *checker {
	if !ok && c.err == nil {
		c.err = &InputError{Formula: c.formula, Quantity: quantity, Word: word, Need: need}
	}
	return c
}

func (c *checker) positive(quantity string, v float64) *checker {
	return c.need(v > 0 && !math.IsInf(v, 0), quantity, v, "positive and finite")
}

func (c *checker) notNegative(quantity string, v float64) *checker {
	return c.need(v >= 0 && !math.IsInf(v, 0), quantity, v, "zero or more and finite")
}

func (c *checker) finite(quantity string, v float64) *checker {
	return c.need(!math.IsNaN(v) && !math.IsInf(v, 0), quantity, v, "finite")
}

// between holds the end values inside; NaN fails both comparisons.
func (c *checker) between(quantity string, v, low, high float64) *checker {
	return c.need(v >= low && v <= high, quantity, v, fmt.Sprintf("%g to %g", low, high))
}

func (c *checker) done() error {
	if c.err == nil {
		return nil
	}
	return c.err
}

// finiteResult refuses a result that left the range of float64, which finite
// but absurd input can cause.
func finiteResult(formula string, v float64) (float64, error) {
	if err := check(formula).finite("result", v).done(); err != nil {
		return 0, err
	}
	return v, nil
}
