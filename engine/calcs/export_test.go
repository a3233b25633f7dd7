package calcs

import (
	"math"
	"strconv"

	"backpitch/engine/quantity"
)

// Half is half of the last digit that the sheet prints of a number with this
// symbol of a formula; "" names its result.
func Half(formula, symbol, text string, units quantity.System) float64 {
	f := catalogue[formula]
	measure := f.result.measure
	for _, x := range f.symbols {
		if x.name == symbol {
			measure = x.measure
		}
	}
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return math.NaN()
	}
	if x == 0 {
		return 5e-5
	}
	return math.Pow10(-measures[measure].decimals(x, units)) / 2
}

// Formulas lists the catalogue.
func Formulas() []string { return order }

// Symbols lists the names of a formula's symbols.
func Symbols(formula string) []string {
	var names []string
	for _, x := range catalogue[formula].symbols {
		names = append(names, x.name)
	}
	return names
}

// Expression is a formula in a system.
func Expression(formula string, units quantity.System) string {
	return catalogue[formula].expression(units)
}
