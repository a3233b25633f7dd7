package exercise

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"
	"unicode/utf8"

	"backpitch/engine/finding"
	"backpitch/engine/quantity"
)

// A sum is written as on paper: 3 + 1 + 2 = 6 dfu, 12 ft * 1/4 in/ft = 3 in,
// 1/4 in/ft - 1/8 in/ft = 1/8 in/ft. Fractions are written as the trade does,
// 1-1/2 or 1/4, without blanks; + - * / with blanks, or without where no
// fraction can be meant; ( ) as usual. Where numbers carry units, the units
// must work out; bare numbers are numbers of the result.

// mostSum is the longest sum that is read, in bytes; mostNested the deepest.
const (
	mostSum    = 400
	mostNested = 20
)

// sumHolds checks the arithmetic and returns the text of the result.
func sumHolds(text string) (result string, err error) {
	if len(text) > mostSum || !utf8.ValidString(text) {
		return "", fmt.Errorf("the sum is longer than %d characters", mostSum)
	}
	sides := strings.Split(text, "=")
	if len(sides) < 2 {
		return "", errors.New("the sum has no =")
	}
	result = strings.TrimSpace(sides[len(sides)-1])
	right, _, err := evaluate(result)
	if err != nil {
		return "", err
	}
	worked := false
	for _, side := range sides[:len(sides)-1] {
		left, operations, err := evaluate(side)
		if err != nil {
			return "", err
		}
		worked = worked || operations > 0
		if !left.equals(right, result) {
			return "", fmt.Errorf("%s is not %s", strings.TrimSpace(side), result)
		}
	}
	if !worked {
		return "", errors.New("nothing is worked out")
	}
	return result, nil
}

// sumShows says whether a sum is right and leads to the finding: to what was
// found, to what is required, or to how far they are apart.
func sumShows(text string, f KeyFinding, percent int) error {
	result, err := sumHolds(text)
	if err != nil {
		return err
	}
	if sameQuantity(result, f.Measured, percent) || sameQuantity(result, f.Limit, percent) {
		return nil
	}
	if m, l := f.Measured, f.Limit; m != nil && l != nil && m.Fixed != nil && l.Fixed != nil {
		apart := max(*m.Fixed-*l.Fixed, *l.Fixed-*m.Fixed)
		if sameQuantity(result, &finding.Quantity{Kind: m.Kind, Fixed: &apart}, percent) {
			return nil
		}
	}
	return fmt.Errorf("%s is neither what is found nor what is required", result)
}

// amount is a number with the powers of length, time, mass and load it has.
type amount struct {
	n    float64 // in base units: m, s, kg, fixture units
	raw  float64 // as written, where one number with one unit stands
	dims [4]int
	bare bool // no unit anywhere
}

// equals compares to half a unit of the last digit that the result shows, and
// to half a percent for what was rounded on the way.
func (a amount) equals(b amount, shown string) bool {
	x, y := a.n, b.n
	switch {
	case a.bare && !b.bare:
		y = b.raw
	case b.bare && !a.bare:
		return false
	case a.dims != b.dims:
		return false
	}
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return false
	}
	scale := 1.0
	if b.raw != 0 && y == b.n {
		scale = math.Abs(b.n / b.raw)
	}
	slack := max(math.Abs(y)*0.005, 0.5*math.Pow(10, -float64(decimals(shown)))*scale)
	if !strings.Contains(shown, ".") {
		slack = max(math.Abs(y)*0.005, 1e-9*scale) // whole numbers and fractions are exact but for rounding on the way
	}
	return math.Abs(x-y) <= slack+1e-12
}

func decimals(shown string) int {
	_, rest, _ := strings.Cut(shown, ".")
	n := 0
	for n < len(rest) && rest[n] >= '0' && rest[n] <= '9' {
		n++
	}
	return n
}

// base is what one of a unit is in base units, and its dimensions.
type base struct {
	n    float64
	dims [4]int
}

// sumUnits are read from quantity, so that sums know the units it knows.
var sumUnits = sync.OnceValue(func() map[string]base {
	out := map[string]base{"%": {0.01, [4]int{}}}
	for kind, dims := range map[quantity.Kind][4]int{
		quantity.Length: {1, 0, 0, 0}, quantity.Area: {2, 0, 0, 0}, quantity.Volume: {3, 0, 0, 0}, quantity.Duration: {0, 1, 0, 0},
		quantity.Flow: {3, -1, 0, 0}, quantity.Velocity: {1, -1, 0, 0}, quantity.Weight: {0, 0, 1, 0},
		quantity.Density: {-3, 0, 1, 0}, quantity.Pressure: {-1, -2, 1, 0}, quantity.Load: {0, 0, 0, 1}, quantity.Slope: {0, 0, 0, 0},
	} {
		for _, symbol := range strings.Fields("mm cm m in ft m2 cm2 mm2 ft2 in2 L mL m3 gal ft3 in3 s ms min h " +
			"L/s L/min L/h mL/s m3/h m3/s gpm gal/min gph ft3/s m/s mm/s ft/s kg g t lb oz kg/m3 lb/ft3 Pa kPa bar mbar psi dfu fu in/ft mm/m cm/m m/m ft/ft ppm") {
			if v, err := quantity.Parse(kind, "1 "+symbol); err == nil {
				if _, taken := out[symbol]; !taken {
					n, _ := v.Rat().Float64()
					out[symbol] = base{n, dims}
				}
			}
		}
	}
	return out
})

// summing reads one side of a sum.
type summing struct {
	s          string
	operations int
	depth      int
}

func evaluate(side string) (amount, int, error) {
	p := &summing{s: strings.NewReplacer("×", "*", "·", "*", "÷", "/", "−", "-", "–", "-").Replace(strings.TrimSpace(side))}
	if p.s == "" {
		return amount{}, 0, errors.New("one side of the sum is empty")
	}
	v, err := p.terms()
	if err == nil && p.skip() {
		err = fmt.Errorf("%q cannot be read as a sum", clipped(p.s))
	}
	return v, p.operations, err
}

// clipped keeps messages short.
func clipped(s string) string {
	const most = 30
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	return string([]rune(s)[:most]) + "…"
}

// skip goes to the next sign and says whether there is one.
func (p *summing) skip() bool {
	p.s = strings.TrimLeft(p.s, " \t")
	return p.s != ""
}

func (p *summing) sign(signs string) (byte, bool) {
	if p.skip() && strings.IndexByte(signs, p.s[0]) >= 0 {
		c := p.s[0]
		p.s = p.s[1:]
		return c, true
	}
	return 0, false
}

func (p *summing) terms() (amount, error) {
	sum, err := p.product()
	for err == nil {
		c, ok := p.sign("+-")
		if !ok {
			return sum, nil
		}
		p.operations++
		var next amount
		if next, err = p.product(); err != nil {
			break
		}
		if sum.bare != next.bare || sum.dims != next.dims {
			return amount{}, errors.New("the sum adds what has not the same unit")
		}
		if c == '-' {
			next.n, next.raw = -next.n, -next.raw
		}
		sum.n, sum.raw = sum.n+next.n, 0
	}
	return amount{}, err
}

func (p *summing) product() (amount, error) {
	v, err := p.factor()
	for err == nil {
		c, ok := p.sign("*/")
		if !ok {
			return v, nil
		}
		p.operations++
		var next amount
		if next, err = p.factor(); err != nil {
			break
		}
		power := 1
		if c == '/' {
			if next.n == 0 {
				return amount{}, errors.New("the sum divides by nothing")
			}
			next.n, power = 1/next.n, -1
		}
		v.n, v.raw, v.bare = v.n*next.n, 0, v.bare && next.bare
		for i := range v.dims {
			v.dims[i] += power * next.dims[i]
		}
	}
	return amount{}, err
}

func (p *summing) factor() (amount, error) {
	if p.depth++; p.depth > mostNested {
		return amount{}, errors.New("the sum has too many brackets")
	}
	defer func() { p.depth-- }()
	if _, minus := p.sign("-"); minus {
		v, err := p.factor()
		v.n, v.raw = -v.n, -v.raw
		return v, err
	}
	if _, open := p.sign("("); open {
		v, err := p.terms()
		if err != nil {
			return v, err
		}
		if _, closed := p.sign(")"); !closed {
			return amount{}, errors.New("a bracket of the sum is not closed")
		}
		return v, nil
	}
	return p.measure()
}

// measure reads a number with or without a unit; 3 ft 6 in is one measure.
func (p *summing) measure() (amount, error) {
	before := p.s
	n, ok := p.number()
	if !ok {
		return amount{}, fmt.Errorf("%q is no number", clipped(p.s))
	}
	read := strings.TrimSuffix(before, p.s)
	unit := p.unit()
	if unit == "" {
		if strings.Contains(read, "/") {
			p.operations++ // 20/4 is a division, 1/4 in is a measure
		}
		return amount{n: n, raw: n, bare: true}, nil
	}
	u, known := sumUnits()[unit]
	if !known {
		return amount{}, fmt.Errorf("%q is no unit that a sum knows", clipped(unit))
	}
	v := amount{n: n * u.n, raw: n, dims: u.dims}
	if unit == "ft" {
		rest := *p
		if inches, ok := rest.number(); ok && rest.unit() == "in" && n >= 0 {
			v.n, v.raw = v.n+inches*sumUnits()["in"].n, 0
			*p = rest
		}
	}
	return v, nil
}

// number reads 12, 1.5, 1/4, 1-1/2 and 1 1/2.
func (p *summing) number() (float64, bool) {
	if !p.skip() {
		return 0, false
	}
	whole, rest, ok := digits(p.s)
	if !ok {
		return 0, false
	}
	p.s = rest
	if frac, after, ok := fractionAfter(rest, "/"); ok && isWhole(whole) {
		p.s = after
		return whole / frac, true
	}
	for _, joint := range []string{"-", " "} {
		tail, ok := strings.CutPrefix(rest, joint)
		if !ok || !isWhole(whole) {
			continue
		}
		top, after, ok := digits(tail)
		if !ok || !isWhole(top) {
			continue
		}
		if bottom, after, ok := fractionAfter(after, "/"); ok && top < bottom {
			p.s = after
			return whole + top/bottom, true
		}
	}
	return whole, true
}

// fractionAfter reads "/4": digits right behind the stroke.
func fractionAfter(s, stroke string) (float64, string, bool) {
	tail, ok := strings.CutPrefix(s, stroke)
	if !ok {
		return 0, s, false
	}
	n, after, ok := digits(tail)
	return n, after, ok && n > 0 && isWhole(n)
}

func isWhole(n float64) bool { return n == math.Trunc(n) && n < 1e6 }

func digits(s string) (float64, string, bool) {
	i := 0
	for i < len(s) && (s[i] >= '0' && s[i] <= '9' || s[i] == '.') {
		i++
	}
	n, err := strconv.ParseFloat(s[:i], 64)
	return n, s[i:], err == nil && !math.IsInf(n, 0)
}

// unit reads the longest unit that stands next, or a word that is none.
func (p *summing) unit() string {
	if !p.skip() {
		return ""
	}
	end := strings.IndexFunc(p.s, func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r == '%' || r == '2' || r == '3')
	})
	if end < 0 {
		end = len(p.s)
	}
	word := p.s[:end]
	if word == "" || word[0] == '2' || word[0] == '3' {
		return ""
	}
	rest := p.s[end:]
	if below, ok := strings.CutPrefix(rest, "/"); ok {
		tail := &summing{s: below}
		if below != "" && below[0] != ' ' {
			if under := tail.unit(); under != "" {
				if _, known := sumUnits()[word+"/"+under]; known {
					p.s = tail.s
					return word + "/" + under
				}
			}
		}
	}
	p.s = rest
	return word
}
