package quantity

import (
	"math/big"
	"strings"
)

// String writes v in the unit and notation it was written in, in canonical
// spelling: "1-1/2 in", "3 ft 6 in", "1:48", "2 %", "DN 50". Parse reads it
// back to an equal Value. It is "" where v is not stated.
func (v Value) String() string {
	switch {
	case v.unit == nil:
		return ""
	case v.kind == Size:
		return sizeText(v.fixed, v.unit, v.amt.form)
	case v.amt.form == ratioOf:
		return ratioText(v.Rat())
	case v.amt.form == feet || v.amt.form == feetFrac:
		return v.feetText()
	}
	return v.unit.write(v.amt.text(v.amt.form))
}

// text writes the magnitude as a decimal or as a mixed fraction.
func (a amount) text(f form) string {
	if a.wide == nil && a.d == 1 {
		return big.NewInt(a.n).String()
	}
	return ratText(a.rat(), f)
}

func ratText(r *big.Rat, f form) string {
	if r.IsInt() {
		return r.Num().String()
	}
	if f != fraction && f != feetFrac {
		return trimZeros(r.FloatString(maxDigits))
	}
	sign := ""
	if r.Sign() < 0 {
		sign = "-"
	}
	whole, rest := new(big.Int).QuoRem(new(big.Int).Abs(r.Num()), r.Denom(), new(big.Int))
	part := rest.String() + "/" + r.Denom().String()
	if whole.Sign() == 0 {
		return sign + part
	}
	return sign + whole.String() + "-" + part
}

// feetText writes inches as feet and inches, leaving out a part that is 0.
func (v Value) feetText() string {
	in := v.amt.rat()
	sign := ""
	if in.Sign() < 0 {
		sign = "-"
		in.Neg(in)
	}
	ft := new(big.Int).Quo(in.Num(), new(big.Int).Mul(in.Denom(), big.NewInt(12)))
	in.Sub(in, new(big.Rat).SetInt(new(big.Int).Mul(ft, big.NewInt(12))))
	switch {
	case ft.Sign() == 0:
		return sign + ratText(in, v.amt.form) + " in"
	case in.Sign() == 0:
		return sign + ft.String() + " ft"
	}
	return sign + ft.String() + " ft " + ratText(in, v.amt.form) + " in"
}

// ratioText writes a slope as 1:48, or as whole numbers (3:7) where the run
// for one is not a short decimal.
func ratioText(r *big.Rat) string {
	sign := ""
	if r.Sign() < 0 {
		sign = "-"
	}
	r.Abs(r)
	if r.Sign() != 0 && r.Cmp(big.NewRat(1, 1)) <= 0 {
		run := new(big.Rat).Inv(r)
		if places, finite := run.FloatPrec(); finite && places <= 6 {
			return sign + "1:" + run.FloatString(places)
		}
	}
	return sign + r.Num().String() + ":" + r.Denom().String()
}

// trimZeros drops the zeros that end a decimal, and its point if bare.
func trimZeros(s string) string {
	if !strings.Contains(s, ".") {
		return s
	}
	return strings.TrimRight(strings.TrimRight(s, "0"), ".")
}
