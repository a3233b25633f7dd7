package calcs_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
)

// evaluate works out an expression of a sheet as a pocket calculator would:
// + - * / ^, parentheses, the functions the package names, pi, and symbols.
func evaluate(expression string, symbols map[string]float64) (x float64, err error) {
	e := &evaluator{text: expression, symbols: symbols}
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("%q: %v", expression, r)
		}
	}()
	x = e.sum()
	if e.skip(); e.at < len(e.text) {
		return 0, fmt.Errorf("%q: %q is left over", expression, e.text[e.at:])
	}
	return x, nil
}

type evaluator struct {
	text    string
	at      int
	symbols map[string]float64
}

func (e *evaluator) skip() {
	for e.at < len(e.text) && e.text[e.at] == ' ' {
		e.at++
	}
}

func (e *evaluator) take(c byte) bool {
	e.skip()
	if e.at < len(e.text) && e.text[e.at] == c {
		e.at++
		return true
	}
	return false
}

func (e *evaluator) must(c byte) {
	if !e.take(c) {
		panic(fmt.Sprintf("no %q at %d", c, e.at))
	}
}

func (e *evaluator) sum() float64 {
	x := e.product()
	for {
		switch {
		case e.take('+'):
			x += e.product()
		case e.take('-'):
			x -= e.product()
		default:
			return x
		}
	}
}

func (e *evaluator) product() float64 {
	x := e.signed()
	for {
		switch {
		case e.take('*'):
			x *= e.signed()
		case e.take('/'):
			x /= e.signed()
		default:
			return x
		}
	}
}

func (e *evaluator) signed() float64 {
	if e.take('-') {
		return -e.signed()
	}
	x := e.atom()
	if e.take('^') {
		return math.Pow(x, e.signed())
	}
	return x
}

func (e *evaluator) atom() float64 {
	if e.take('(') {
		x := e.sum()
		e.must(')')
		return x
	}
	e.skip()
	start := e.at
	for e.at < len(e.text) && (unicode.IsLetter(rune(e.text[e.at])) || unicode.IsDigit(rune(e.text[e.at])) || e.text[e.at] == '.') {
		e.at++
	}
	name := e.text[start:e.at]
	if x, err := strconv.ParseFloat(name, 64); err == nil && !strings.ContainsAny(name, "eEiInN") {
		return x
	}
	if e.at < len(e.text) && e.text[e.at] == '(' {
		return e.call(name)
	}
	if x, ok := e.symbols[name]; ok {
		return x
	}
	if name == "pi" {
		return math.Pi
	}
	panic(fmt.Sprintf("no symbol %q", name))
}

func (e *evaluator) call(name string) float64 {
	e.must('(')
	x := e.sum()
	switch name {
	case "max":
		e.must(',')
		x = math.Max(x, e.sum())
	case "sqrt":
		x = math.Sqrt(x)
	case "log10":
		x = math.Log10(x)
	case "ln":
		x = math.Log(x)
	case "sin":
		x = math.Sin(x)
	case "acos":
		x = math.Acos(x)
	default:
		panic(fmt.Sprintf("no function %q", name))
	}
	e.must(')')
	return x
}
