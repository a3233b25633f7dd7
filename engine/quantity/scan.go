package quantity

import (
	"fmt"
	"math/big"
	"strings"
)

// maxDigits bounds each run of digits, so that arithmetic stays small.
const maxDigits = 32

// maxText bounds the whole text; the longest honest quantity is far shorter.
const maxText = 160

var pow10 = [...]int64{1, 10, 100, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18}

// scanner walks one text, already ASCII, from left to right.
type scanner struct {
	info *kindInfo
	text string // as given, for errors
	s    string
	i    int
}

func (p *scanner) fail(reason, hint string) *ParseError {
	return &ParseError{Kind: p.info.kind, Text: p.text, Reason: reason, Hint: hint}
}

func (p *scanner) spaces() {
	for p.i < len(p.s) && (p.s[p.i] == ' ' || p.s[p.i] == '\t') {
		p.i++
	}
}

func (p *scanner) at(c byte) bool { return p.i < len(p.s) && p.s[p.i] == c }

func (p *scanner) digitAt(i int) bool { return i < len(p.s) && digit(p.s[i]) }

func (p *scanner) digits() string {
	from := p.i
	for p.digitAt(p.i) {
		p.i++
	}
	return p.s[from:p.i]
}

// number reads an unsigned magnitude: 3, 1.5, .5, 1/2, 1-1/2 or 1 1/2.
func (p *scanner) number() (amount, *ParseError) {
	whole := p.digits()
	if p.at('.') {
		p.i++
		part := p.digits()
		if part == "" {
			return amount{}, p.fail("a decimal point needs digits after it", p.example())
		}
		if err := p.after(); err != nil {
			return amount{}, err
		}
		if p.at('/') && p.digitAt(p.i+1) {
			return amount{}, p.fail("a fraction is made of whole numbers", `write "1-1/2" or "1.5"`)
		}
		return p.decimal(whole, part)
	}
	if whole == "" {
		return amount{}, p.fail("it has no number", p.example())
	}
	if err := p.after(); err != nil {
		return amount{}, err
	}
	if p.at('/') && p.digitAt(p.i+1) {
		p.i++
		return p.fraction("", whole, p.digits())
	}
	return p.mixed(whole)
}

// mixed reads what may follow a whole number: "-1/2" or " 1/2".
func (p *scanner) mixed(whole string) (amount, *ParseError) {
	start := p.i
	p.spaces()
	dash := p.at('-')
	if dash {
		p.i++
		p.spaces()
	}
	if !p.digitAt(p.i) {
		p.i = start
		return p.decimal(whole, "")
	}
	num := p.digits()
	if p.at('/') && p.digitAt(p.i+1) {
		p.i++
		return p.fraction(whole, num, p.digits())
	}
	if dash {
		return amount{}, p.fail("it is a range, not one quantity", "write one number with its unit")
	}
	if len(num) == 3 {
		return amount{}, p.fail("it has a thousands separator", fmt.Sprintf("write %q", whole+num+p.s[p.i:]))
	}
	return amount{}, p.fail("two numbers stand side by side", `write "1-1/2" for one and a half`)
}

// after refuses what must not touch a run of digits.
func (p *scanner) after() *ParseError {
	if p.i >= len(p.s) {
		return nil
	}
	switch c := p.s[p.i]; c {
	case ',':
		return p.comma()
	case '_':
		return p.fail("it has a thousands separator", fmt.Sprintf("write %q", strings.ReplaceAll(p.s, "_", "")))
	case '.':
		return p.fail("it has more than one decimal point", p.example())
	case 'e', 'E':
		if p.digitAt(p.i+1) || p.i+1 < len(p.s) && (p.s[p.i+1] == '-' || p.s[p.i+1] == '+') {
			return p.fail("it has an exponent", "write the number out in full")
		}
	}
	return nil
}

// comma tells a thousands separator, which has three digits after it and no
// decimal point before, from a decimal comma.
func (p *scanner) comma() *ParseError {
	from := p.i + 1
	to := from
	for p.digitAt(to) {
		to++
	}
	lead := p.s[:p.i]
	if to-from == 3 && !strings.Contains(lead, ".") {
		hint := fmt.Sprintf("write %q", strings.ReplaceAll(p.s, ",", ""))
		if !strings.ContainsAny(p.s[from:], ".,") {
			hint += fmt.Sprintf(", or %q if a decimal is meant", lead+"."+p.s[from:])
		}
		return p.fail("it has a thousands separator", hint)
	}
	return p.fail("it has a decimal comma", fmt.Sprintf("write %q", strings.ReplaceAll(lead, ".", "")+"."+p.s[from:]))
}

func (p *scanner) decimal(whole, part string) (amount, *ParseError) {
	whole = strings.TrimLeft(whole, "0")
	if len(whole)+len(part) > maxDigits {
		return amount{}, p.tooLong()
	}
	part = strings.TrimRight(part, "0")
	if len(whole)+len(part) < len(pow10) {
		return amount{n: small(whole)*pow10[len(part)] + small(part), d: pow10[len(part)]}, nil
	}
	scale := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(len(part))), nil)
	return amount{wide: new(big.Rat).SetFrac(wideInt(whole+part), scale)}, nil
}

// fraction builds whole-num/den; whole is "" for a plain fraction.
func (p *scanner) fraction(whole, num, den string) (amount, *ParseError) {
	mixed := whole != ""
	whole, num, den = strings.TrimLeft(whole, "0"), strings.TrimLeft(num, "0"), strings.TrimLeft(den, "0")
	if max(len(whole), len(num), len(den)) > maxDigits {
		return amount{}, p.tooLong()
	}
	if den == "" {
		return amount{}, p.fail("it divides by zero", `write a fraction such as "1/2"`)
	}
	if mixed && (len(num) > len(den) || len(num) == len(den) && num >= den) {
		return amount{}, p.fail("the fraction after a whole number must be less than one", `write "1-1/2" for one and a half`)
	}
	if max(len(whole), len(num), len(den)) <= 9 {
		d := small(den)
		n := small(whole)*d + small(num)
		g := gcd(n, d)
		return amount{n: n / g, d: d / g, form: fraction}, nil
	}
	r := new(big.Rat).SetFrac(wideInt(num), wideInt(den))
	return amount{wide: r.Add(r, new(big.Rat).SetInt(wideInt(whole))), form: fraction}, nil
}

func (p *scanner) tooLong() *ParseError {
	return p.fail(fmt.Sprintf("a number has more than %d digits", maxDigits), "round it to what can be built and measured")
}

func (p *scanner) example() string {
	switch {
	case p.info.bare:
		return `write a plain number, such as "2"`
	case p.info.kind == Slope:
		return `write a number with its unit, such as "1/4 in/ft", "2 %" or "1:48"`
	case p.info.kind == Size:
		return `write a nominal size, such as "3 in" or "DN 80"`
	}
	return strings.Replace(p.info.withUnit("3"), "write", "write a number with its unit, such as", 1)
}

// wideInt reads digits in base ten; "" is 0.
func wideInt(digits string) *big.Int {
	n, _ := new(big.Int).SetString("0"+digits, 10)
	return n
}

// small reads at most 18 digits; "" is 0.
func small(digits string) int64 {
	var n int64
	for i := 0; i < len(digits); i++ {
		n = n*10 + int64(digits[i]-'0')
	}
	return n
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
