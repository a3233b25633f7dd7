package facts

import (
	"math"
	"math/big"
	"slices"
	"strings"

	"backpitch/engine/design"
	"backpitch/engine/finding"
	"backpitch/engine/quantity"
)

// rat is an exact number of metres, or of metres a metre. nil is not known.
type rat = big.Rat

// Bounds beyond which a stated value is taken as not stated, so that sums
// cannot overflow: 100 km of pipe or height, a billion units of load.
const (
	mostNanometres = int64(1e14)
	mostLoad       = int64(1e12)
	mostFlow       = int64(1e12)
)

// unknown is a length that is not stated.
const unknown = int64(-1)

func ptr[T any](x T) *T { return &x }

// some points to x, nil where x is zero.
func some(x int64) *int64 {
	if x == 0 {
		return nil
	}
	return &x
}

// fixed is a stated quantity in its fixed unit, nil where it is not stated.
func fixed(q quantity.Value) *int64 {
	if q.IsZero() {
		return nil
	}
	return ptr(q.Fixed())
}

// count copies a stated count.
func count(i *int) *int64 {
	if i == nil {
		return nil
	}
	return ptr(int64(*i))
}

func is(b *bool) bool { return b != nil && *b }

// copied is a pointer of its own, so that facts never share with the design.
func copied[T any](p *T) *T {
	if p == nil {
		return nil
	}
	return ptr(*p)
}

// sizeKey is the table key of a size, "" where it is not stated.
func sizeKey(dn int64) string {
	if dn == 0 {
		return ""
	}
	return quantity.SizeKey(dn)
}

// metres is a stated length exactly, nil where it is not stated or absurd.
func metres(l design.Length) *rat {
	if l.IsZero() || abs(l.Nanometres()) > mostNanometres {
		return nil
	}
	return l.Rat()
}

// nanometres is a stated length that cannot be negative, or unknown.
func nanometres(l design.Length) int64 {
	if l.IsZero() {
		return unknown
	}
	if nm := l.Nanometres(); nm >= 0 && nm <= mostNanometres {
		return nm
	}
	return unknown
}

// micrometres rounds nanometres half away from zero, nil for unknown.
func micrometres(nm int64) *int64 {
	if nm < 0 {
		return nil
	}
	return ptr((nm + 500) / 1000)
}

// plus adds two lengths, unknown where either is.
func plus(a, b int64) int64 {
	if a < 0 || b < 0 || a > math.MaxInt64/2 || b > math.MaxInt64/2 {
		return unknown
	}
	return a + b
}

// ofNanometres is a length as an exact number of metres.
func ofNanometres(nm int64) *rat { return big.NewRat(nm, 1e9) }

var million = big.NewRat(1e6, 1)

// toMillionths rounds metres to micrometres, or a slope to parts per million,
// half away from zero; nil for nil.
func toMillionths(r *rat) *int64 {
	if r == nil {
		return nil
	}
	x := new(rat).Mul(r, million)
	num := new(big.Int).Abs(x.Num())
	num.Lsh(num, 1).Add(num, x.Denom())
	num.Quo(num, new(big.Int).Lsh(x.Denom(), 1))
	if !num.IsInt64() {
		return nil
	}
	if x.Sign() < 0 {
		return ptr(-num.Int64())
	}
	return ptr(num.Int64())
}

func add(a, b *rat) *rat { return bounded(new(rat).Add(a, b)) }
func sub(a, b *rat) *rat { return bounded(new(rat).Sub(a, b)) }

// bounded keeps fractions short on their way through thousands of pipes:
// beyond 96 bits of denominator a length is rounded to a femtometre.
func bounded(r *rat) *rat {
	if r.Denom().BitLen() <= 96 {
		return r
	}
	const scale = 1e15
	num := new(big.Int).Mul(r.Num(), big.NewInt(scale))
	num.Quo(num, r.Denom())
	return r.SetFrac(num, big.NewInt(scale))
}

// lower is the smaller of two, the known one where one is nil.
func lower(a, b *rat) *rat {
	if a == nil || b != nil && b.Cmp(a) < 0 {
		return b
	}
	return a
}

func higher(a, b *rat) *rat {
	if a == nil || b != nil && b.Cmp(a) > 0 {
		return b
	}
	return a
}

func abs(x int64) int64 {
	if x < 0 {
		return -x
	}
	return x
}

// toFixed rounds an SI value to whole fixed units, nil where it is not a number
// that a fact can hold.
func toFixed(si, perUnit float64) *int64 {
	x := math.Round(si * perUnit)
	if math.IsNaN(x) || math.Abs(x) > 1<<53 {
		return nil
	}
	return ptr(int64(x))
}

// diameter is a nominal size as a length: the inch size in US units, the DN
// number in millimetres in SI units (ISO 6708 gives DN no unit; reading it so
// is common practice).
func (v *derivation) diameter(dn int64) *int64 {
	if dn == 0 {
		return nil
	}
	if !v.t.Metric() {
		if um, ok := inchSizes[dn]; ok {
			return ptr(um)
		}
	}
	return ptr(dn * 1000)
}

// inchSizes has the nominal inch size of a DN number in micrometres.
var inchSizes = func() map[int64]int64 {
	sizes := map[int64]int64{}
	for _, s := range quantity.Sizes() {
		if s.Inch == "" {
			continue
		}
		l, err := quantity.Parse(quantity.Length, s.Inch+" in")
		if err != nil {
			panic("facts: nominal size " + s.Inch + ": " + err.Error())
		}
		sizes[s.DN] = l.Fixed()
	}
	return sizes
}()

func sortByID[T any](list []T, id func(*T) string) {
	slices.SortStableFunc(list, func(x, y T) int { return strings.Compare(id(&x), id(&y)) })
}

func compareText(a, b string) int { return strings.Compare(a, b) }

func fill[T any](list *[]T) {
	if *list == nil {
		*list = []T{}
	}
}

func (v *derivation) problem(at design.Position, code, message, hint string) {
	v.problems = append(v.problems, finding.Problem{
		Place: finding.Place{Line: at.Line, Col: at.Col, Pointer: at.Pointer},
		Code:  code, Message: message, Hint: hint,
	})
}
