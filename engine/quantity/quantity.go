// Package quantity turns the way the trade writes measures into exact numbers
// and back: "1-1/2 in", "3'-6\"", "1/4 in/ft", "2 %", "1:48", "DN 50",
// "21 gpm", "3 dfu".
//
// [Parse] reads one quantity of a stated [Kind] and keeps it as an exact
// fraction, so that "1/4 in/ft" is 1/48 and "18 in" equals "457.2 mm".
// [Value.Fixed] gives the whole number, in the kind's fixed unit, that facts,
// tables and rules compare; [Units] names those units. [Format] renders such a
// whole number for people in US or SI units.
//
// A quantity always carries its unit. A bare number, a decimal comma, a
// thousands separator and an exponent are refused, each with a hint.
// Gallons are US gallons, ounces avoirdupois; imperial gallons are not read.
//
// Conversion factors are those of NIST SP 811 (2008), appendix B, exact by
// definition: 1 in = 0.0254 m, 1 gal = 231 in3, 1 lb = 0.45359237 kg.
package quantity

import (
	"math/big"
	"math/bits"
)

// Unlimited is the fixed value of a "no limit" table cell. It is the largest
// whole number every JSON reader keeps exact, and larger than any Value.
const Unlimited int64 = 1<<53 - 1

// form is the notation a magnitude was written in.
type form uint8

const (
	decimal  form = iota // 1.5 in, 3 ft
	fraction             // 1-1/2 in
	feet                 // 3 ft 6.5 in
	feetFrac             // 3 ft 6-1/2 in
	ratioOf              // 1:48
)

// amount is an exact magnitude n/d; wide replaces it where int64 is too small.
type amount struct {
	n, d int64
	wide *big.Rat
	form form
}

// Value is one exact quantity with the unit and notation it was written in.
// Values are immutable. The zero Value means "not stated"; a written zero,
// such as "0 in", is not the zero Value. Compare with [Value.Equal].
type Value struct {
	kind  Kind
	unit  *unit // nil: not stated
	amt   amount
	fixed int64
}

// Kind returns the kind of v, or "" where v is not stated.
func (v Value) Kind() Kind { return v.kind }

// IsZero reports whether v is not stated.
func (v Value) IsZero() bool { return v.unit == nil }

// Fixed returns v as a whole number in the fixed unit of its kind (see
// [Units]), rounded half away from zero; 0 where v is not stated.
func (v Value) Fixed() int64 { return v.fixed }

// Rat returns v exactly in the SI base unit of its kind: m, m/m, m3/s, m3,
// m/s, s, kg, Pa, m2, kg/m3. Angles are in degrees (a radian is not a whole
// fraction of one), sizes are DN numbers, loads are fixture units, discharge
// units m3/s. The result is a copy; it is 0 where v is not stated.
func (v Value) Rat() *big.Rat {
	if v.unit == nil {
		return new(big.Rat)
	}
	return v.amt.times(v.unit.num, v.unit.den)
}

// SI returns the float nearest to [Value.Rat].
func (v Value) SI() float64 {
	if v.unit == nil {
		return 0
	}
	if v.amt.wide == nil {
		nh, n := bits.Mul64(magnitude(v.amt.n), uint64(v.unit.num))
		dh, d := bits.Mul64(uint64(v.amt.d), uint64(v.unit.den))
		// Both terms are exact floats, so one division rounds correctly.
		if nh == 0 && dh == 0 && n <= 1<<53 && d <= 1<<53 {
			f := float64(n) / float64(d)
			if v.amt.n < 0 {
				return -f
			}
			return f
		}
	}
	f, _ := v.Rat().Float64()
	return f
}

// Nanometres returns a length in whole nanometres, rounded half away from
// zero. Every multiple of 1/64 in is exact, so sums of them are too. It is 0
// for any other kind.
func (v Value) Nanometres() int64 {
	if v.kind != Length || v.unit == nil {
		return 0
	}
	n, ok := v.amt.round(v.unit.num*1e9, v.unit.den)
	if !ok {
		// Only FromFixed can reach this: Parse keeps below Unlimited.
		return saturated(v.fixed)
	}
	return n
}

// Equal reports whether v and w are the same quantity: the same kind and
// exactly the same size, however written. Two values not stated are equal.
func (v Value) Equal(w Value) bool {
	if v.unit == nil || w.unit == nil {
		return v.unit == w.unit
	}
	if v.kind != w.kind || v.fixed != w.fixed {
		return false
	}
	if v.unit == w.unit && v.amt.wide == nil && w.amt.wide == nil &&
		v.amt.n == w.amt.n && v.amt.d == w.amt.d {
		return true
	}
	return v.Rat().Cmp(w.Rat()) == 0
}

// FromFixed returns the Value of n fixed units of kind k, written in the usual
// SI unit ("mm", "%", "L/s", ...). A kind that does not exist gives the zero
// Value. A size is not looked up: FromFixed(Size, 77) is DN 77.
func FromFixed(k Kind, n int64) Value {
	info := kinds[k]
	if info == nil {
		return Value{}
	}
	u := info.plain
	// n fixed units are n*fden/fnum of u; u is chosen so that fden is 1.
	return Value{kind: k, unit: u, amt: amount{n: n, d: u.fnum}, fixed: n}
}

// rat returns a as a fresh big.Rat.
func (a amount) rat() *big.Rat {
	if a.wide != nil {
		return new(big.Rat).Set(a.wide)
	}
	return big.NewRat(a.n, a.d)
}

func (a amount) times(num, den int64) *big.Rat {
	r := a.rat()
	return r.Mul(r, big.NewRat(num, den))
}

// round returns a*num/den as a whole number, half away from zero, and whether
// it fits int64. num and den are positive.
func (a amount) round(num, den int64) (int64, bool) {
	if a.wide == nil {
		dh, d := bits.Mul64(uint64(a.d), uint64(den))
		if dh == 0 {
			hi, lo := bits.Mul64(magnitude(a.n), uint64(num))
			if hi >= d {
				return 0, false
			}
			q, r := bits.Div64(hi, lo, d)
			if r >= d-r {
				q++
			}
			if q > 1<<63-1 {
				return 0, false
			}
			if a.n < 0 {
				return -int64(q), true
			}
			return int64(q), true
		}
	}
	return roundRat(a.times(num, den))
}

// roundRat rounds r half away from zero.
func roundRat(r *big.Rat) (int64, bool) {
	n := new(big.Int).Abs(r.Num())
	n.Lsh(n, 1).Add(n, r.Denom())
	n.Quo(n, new(big.Int).Lsh(r.Denom(), 1))
	if r.Sign() < 0 {
		n.Neg(n)
	}
	return n.Int64(), n.IsInt64()
}

func (a amount) sign() int {
	if a.wide != nil {
		return a.wide.Sign()
	}
	switch {
	case a.n > 0:
		return 1
	case a.n < 0:
		return -1
	}
	return 0
}

func (a amount) negated() amount {
	if a.wide != nil {
		a.wide = new(big.Rat).Neg(a.wide)
	}
	a.n = -a.n
	return a
}

// magnitude is |n|, correct for the smallest int64 too.
func magnitude(n int64) uint64 {
	if n < 0 {
		return -uint64(n)
	}
	return uint64(n)
}

func saturated(sign int64) int64 {
	if sign < 0 {
		return -1 << 63
	}
	return 1<<63 - 1
}
