package quantity

import (
	"errors"
	"fmt"
	"math/big"
	"strings"
)

// Parse reads one quantity of kind k in trade notation, such as "1-1/2 in",
// "3'-6\"", "1:48" or "DN 50". Every error is a [*ParseError] with a hint.
func Parse(k Kind, text string) (Value, error) {
	v, err := parse(k, text)
	if err != nil {
		return Value{}, err
	}
	return v, nil
}

// ParseOneOf reads text as the first of the kinds that accepts it, for a field
// that may hold either, such as a load in "dfu" or in "L/s" discharge units.
// The error is the one of the first kind; its hint names the others too.
func ParseOneOf(text string, kinds ...Kind) (Value, error) {
	var first *ParseError
	for _, k := range kinds {
		v, err := parse(k, text)
		if err == nil {
			return v, nil
		}
		if first == nil {
			first = err
		} else if first.Hint != err.Hint {
			first.Hint += "; for " + k.label() + ": " + err.Hint
		}
	}
	if first == nil {
		return Value{}, errors.New("no kind of quantity was asked for")
	}
	return Value{}, first
}

// ParseLimit reads a table cell of kind k: a quantity, "no limit" (Unlimited)
// or "not permitted" (0). The result is in the fixed unit of k.
func ParseLimit(k Kind, text string) (int64, error) {
	word := strings.TrimSpace(text)
	switch {
	case strings.EqualFold(word, noLimit):
		return Unlimited, nil
	case strings.EqualFold(word, notPermitted):
		return 0, nil
	}
	v, err := parse(k, text)
	if err != nil {
		err.Hint += fmt.Sprintf("; a limit may also be %q or %q", noLimit, notPermitted)
		return 0, err
	}
	return v.fixed, nil
}

const (
	noLimit      = "no limit"
	notPermitted = "not permitted"
)

func parse(k Kind, text string) (Value, *ParseError) {
	info := kinds[k]
	if info == nil {
		return Value{}, &ParseError{Kind: k, Text: text, Reason: "there is no such kind of quantity", Hint: "use one of the kinds that Units lists"}
	}
	p := &scanner{info: info, text: text, s: text}
	if len(text) > maxText {
		return Value{}, p.fail(fmt.Sprintf("it is longer than %d characters", maxText), p.example())
	}
	if !isASCII(text) {
		ascii, bad := toASCII(text)
		if bad != "" {
			return Value{}, p.fail(fmt.Sprintf("%q cannot be read there", bad), p.example())
		}
		p.s = ascii
	}
	p.s = strings.TrimSpace(p.s)
	if p.s == "" {
		return Value{}, p.fail("it is empty", p.example())
	}
	if k == Size && letter(p.s[0]) {
		return p.namedSize()
	}
	negative := p.at('-')
	if negative || p.at('+') {
		p.i++
		p.spaces()
	}
	a, u, err := p.quantity()
	if err != nil {
		return Value{}, err
	}
	if negative && a.sign() != 0 {
		if !info.signed {
			return Value{}, p.fail(info.kind.label()+" is never negative", "leave out the minus sign")
		}
		a = a.negated()
	}
	return p.value(a, u)
}

// quantity reads a magnitude and its unit, in any of the notations.
func (p *scanner) quantity() (amount, *unit, *ParseError) {
	a, err := p.number()
	if err != nil {
		return a, nil, err
	}
	p.spaces()
	if p.info.takesRatio() {
		if p.at(':') {
			p.i++
			return p.ratio(a)
		}
		// "1 in 48", but not the unit of "1 in/ft".
		if r := p.s[p.i:]; len(r) > 3 && (r[0] == 'i' || r[0] == 'I') && (r[1] == 'n' || r[1] == 'N') && r[2] == ' ' {
			if rest := strings.TrimLeft(r[2:], " "); rest != "" && digit(rest[0]) {
				p.i = len(p.s) - len(rest)
				return p.ratio(a)
			}
		}
	}
	if p.info.kind == Length {
		if i := strings.IndexAny(p.s[p.i:], "0123456789"); i >= 0 {
			return p.feetInches(a, p.i+i)
		}
	}
	u, err := p.unit(p.s[p.i:])
	return a, u, err
}

// ratio reads the run of "1:48".
func (p *scanner) ratio(rise amount) (amount, *unit, *ParseError) {
	p.spaces()
	run, err := p.number()
	if err != nil {
		return rise, nil, err
	}
	if p.spaces(); p.i < len(p.s) {
		return rise, nil, p.fail(fmt.Sprintf("%q follows the ratio", p.s[p.i:]), `write "1:48"`)
	}
	if run.sign() == 0 {
		return rise, nil, p.fail("it divides by zero", `write "1:48"`)
	}
	// A ratio is kept in percent, the first unit of these kinds.
	percent := p.info.lookup["%"]
	const short = 1e8 // products of two stay below 1e18
	if rise.wide == nil && run.wide == nil && max(rise.n, rise.d, run.n, run.d) <= short {
		n, d := rise.n*run.d*100, rise.d*run.n
		g := gcd(n, d)
		return amount{n: n / g, d: d / g, form: ratioOf}, percent, nil
	}
	r := rise.rat()
	r.Quo(r, run.rat())
	// The text of a value names the reduced terms, so they must be readable.
	if max(len(r.Num().String()), len(r.Denom().String())) > maxDigits {
		return rise, nil, p.tooLong()
	}
	out := amount{wide: r.Mul(r, big.NewRat(100, 1)), form: ratioOf}
	if r.Num().IsInt64() && r.Denom().IsInt64() {
		out = amount{n: r.Num().Int64(), d: r.Denom().Int64(), form: ratioOf}
	}
	return out, percent, nil
}

// feetInches reads "3 ft 6 in" once the feet are known; the inches start at i.
func (p *scanner) feetInches(ft amount, i int) (amount, *unit, *ParseError) {
	mark := strings.TrimRight(p.s[p.i:i], " \t-")
	rest := p.s[p.i:]
	u := p.info.lookup[mark]
	if u == nil {
		u = p.info.lookup[plainUnit(mark)]
	}
	if u == nil || u.symbol != "ft" {
		_, err := p.unit(rest)
		return ft, nil, err
	}
	if ft.wide != nil || ft.d != 1 || ft.n > 1e15 {
		return ft, nil, p.fail("feet before inches must be a whole number", `write "3 ft 6 in" or "3.5 ft"`)
	}
	p.i = i
	in, err := p.number()
	if err != nil {
		return ft, nil, err
	}
	p.spaces()
	if p.i == len(p.s) {
		if _, other := kindOfUnit[plainUnit(rest)]; other { // "3 ft2"
			_, err := p.unit(rest)
			return ft, nil, err
		}
		return ft, nil, p.fail("the inches have no unit", fmt.Sprintf("write %q", p.s+" in"))
	}
	if u, err = p.unit(p.s[p.i:]); err != nil {
		return ft, nil, err
	}
	if u.symbol != "in" {
		return ft, nil, p.fail(fmt.Sprintf("%q after feet must be inches", u.symbol), `write "3 ft 6 in"`)
	}
	if in.wide == nil && in.n/in.d >= 12 || in.wide != nil && in.wide.Cmp(big.NewRat(12, 1)) >= 0 {
		return ft, nil, p.fail("inches after feet must be less than 12", `write "4 ft 6 in", or inches alone`)
	}
	return addFeet(ft.n, in), u, nil
}

// addFeet returns ft feet and in inches, in inches.
func addFeet(ft int64, in amount) amount {
	form := feet
	if in.form == fraction {
		form = feetFrac
	}
	// A quarter of the int64 range leaves room for the inches.
	if in.wide == nil && ft*12 <= (1<<61)/in.d {
		return amount{n: ft*12*in.d + in.n, d: in.d, form: form}
	}
	r := in.rat()
	return amount{wide: r.Add(r, new(big.Rat).SetInt64(ft*12)), form: form}
}

// unit finds the unit written as text.
func (p *scanner) unit(text string) (*unit, *ParseError) {
	if u := p.info.lookup[text]; u != nil {
		return u, nil
	}
	if text == "" {
		return nil, p.fail("it has no unit", p.info.withUnit(p.s))
	}
	plain := plainUnit(text)
	if u := p.info.lookup[plain]; u != nil && plain != "" {
		return u, nil
	}
	if p.info.kind == Size && (plain == "mm" || plain == "cm") {
		return nil, p.fail("a pipe size is a nominal size, not a measured one", `write "DN 50" or "2 in"`)
	}
	reason := fmt.Sprintf("%q is not a unit", text)
	if k, ok := kindOfUnit[plain]; ok && plain != "" {
		reason = fmt.Sprintf("%q is a unit for %s", text, k.label())
	}
	return nil, p.fail(reason, p.info.accepted())
}

// namedSize reads "DN 50" and "NPS 2".
func (p *scanner) namedSize() (Value, *ParseError) {
	for p.i < len(p.s) && letter(p.s[p.i]) {
		p.i++
	}
	name := strings.ToUpper(p.s[:p.i])
	if name != "DN" && name != "NPS" {
		return Value{}, p.fail("it has no number", p.example())
	}
	p.spaces()
	a, err := p.number()
	if err != nil {
		return Value{}, err
	}
	if p.spaces(); p.i < len(p.s) {
		return Value{}, p.fail(fmt.Sprintf("%q follows the size", p.s[p.i:]), `write "DN 50" or "NPS 2"`)
	}
	return p.value(a, p.info.lookup[name])
}

// value checks the range and builds the Value.
func (p *scanner) value(a amount, u *unit) (Value, *ParseError) {
	if p.info.kind == Size {
		dn, ok := listed(a, u)
		if !ok {
			return Value{}, p.fail("it is not a listed nominal size", nearest(a, u))
		}
		a = amount{n: dn, d: 1, form: a.form}
	}
	if p.info.kind == Count && (a.wide == nil && a.n%a.d != 0 || a.wide != nil && !a.wide.IsInt()) {
		return Value{}, p.fail("a count is a whole number", `write a whole number, such as "2"`)
	}
	n, ok := a.round(u.fnum, u.fden)
	if !ok || n >= Unlimited || n <= -Unlimited {
		return Value{}, p.fail("it is too large", "check the number and the unit")
	}
	return Value{kind: p.info.kind, unit: u, amt: a, fixed: n}, nil
}
