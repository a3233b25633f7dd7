package engine_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"math/big"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"backpitch/engine/design"
	"backpitch/engine/finding"
	"backpitch/engine/quantity"
)

// verdict is what must not depend on how a design is written down.
type verdict struct {
	outcome finding.Outcome
	missing string
	value   [2]int64 // measured and limit in fixed units
}

func verdicts(r *finding.Review) map[string]verdict {
	all := map[string]verdict{}
	for _, f := range r.Findings {
		v := verdict{outcome: f.Outcome, missing: strings.Join(f.Missing, ", ")}
		for i, q := range []*finding.Quantity{f.Measured, f.Limit} {
			if q != nil && q.Fixed != nil {
				v.value[i] = *q.Fixed
			}
		}
		all[f.Rule+" "+f.Subject] = v
	}
	return all
}

// alike compares two reviews of one design; values may differ by `slack`.
func alike(t *testing.T, name string, want, got *finding.Review, slack int64) {
	t.Helper()
	near := cmp.Comparer(func(a, b verdict) bool {
		within := func(i int) bool { return max(a.value[i]-b.value[i], b.value[i]-a.value[i]) <= slack }
		return a.outcome == b.outcome && a.missing == b.missing && within(0) && within(1)
	})
	if diff := cmp.Diff(verdicts(want), verdicts(got), near); diff != "" {
		t.Errorf("%s (-as written +rewritten):\n%s", name, diff)
	}
}

// TestOrderChangesNothing shuffles the elements of every design: the order of
// its lists has no meaning but in a pipe's bends, joints and devices and in a
// pump's curve.
func TestOrderChangesNothing(t *testing.T) {
	s := wholeSuite(t)
	for name, data := range s.designs {
		for seed := range uint64(5) {
			random := rand.New(rand.NewPCG(seed, 7))
			var doc map[string]any
			if err := json.Unmarshal(data, &doc); err != nil {
				t.Fatal(err)
			}
			for _, v := range slices.Sorted(maps.Keys(doc)) {
				if list, ok := doc[v].([]any); ok {
					random.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
				}
			}
			shuffled := must(json.Marshal(doc))
			alike(t, fmt.Sprintf("%s, seed %d", name, seed), s.review(t, "ipc-2021", name, nil), s.judge(t, "ipc-2021", name, shuffled), 0)
		}
	}
}

// TestUnitsChangeNothing rewrites every quantity of every design in SI units,
// by the factors of NIST SP 811 (2008), appendix B: 1 in = 25.4 mm, 1 gal =
// 3.785411784 L and 1 lb = 0.45359237 kg are exact.
func TestUnitsChangeNothing(t *testing.T) {
	s := wholeSuite(t)
	for name, data := range s.designs {
		var doc any
		d := json.NewDecoder(bytes.NewReader(data))
		d.UseNumber()
		if err := d.Decode(&doc); err != nil {
			t.Fatal(err)
		}
		rewritten := 0
		metric := must(json.Marshal(inSI(t, doc, reflect.TypeFor[design.Document](), &rewritten)))
		if rewritten < 50 && !strings.Contains(name, "sketch") {
			t.Errorf("%s: only %d quantities rewritten", name, rewritten)
		}
		for _, unit := range []string{` in"`, ` ft"`, `gpm"`, ` gal"`, ` lb"`, `lb/ft3"`, ` psi"`, `in/ft"`} {
			if bytes.Contains(metric, []byte(unit)) {
				t.Errorf("%s: a quantity in%s is left", name, unit)
			}
		}
		for _, p := range complete {
			alike(t, name+" under "+p, s.review(t, p, name, nil), s.judge(t, p, name, metric), 1)
		}
	}
}

// inSI rewrites the quantities of a JSON value that holds a design type.
func inSI(t *testing.T, v any, typ reflect.Type, rewritten *int) any {
	t.Helper()
	if typ.Kind() == reflect.Pointer {
		typ = typ.Elem()
	}
	switch value := v.(type) {
	case []any:
		for i := range value {
			value[i] = inSI(t, value[i], typ.Elem(), rewritten)
		}
	case map[string]any:
		for i := range typ.NumField() {
			key, _, _ := strings.Cut(typ.Field(i).Tag.Get("json"), ",")
			if at, ok := value[key]; ok {
				value[key] = inSI(t, at, typ.Field(i).Type, rewritten)
			}
		}
	case string:
		kind := quantity.Kind(strings.ToLower(typ.Name()))
		if typ.PkgPath() != reflect.TypeFor[design.Length]().PkgPath() || typ.Kind() != reflect.Struct {
			return value
		}
		metric, ok := si(t, kind, value)
		if ok {
			*rewritten++
		}
		return metric
	}
	return v
}

// si writes a quantity in SI units with as many decimals as it needs, twelve
// where no number is enough. Loads, angles and times have no other unit.
func si(t *testing.T, kind quantity.Kind, text string) (string, bool) {
	t.Helper()
	units := map[quantity.Kind]struct {
		symbol  string
		inOneSI int64
	}{
		quantity.Length: {" mm", 1000}, quantity.Flow: {" L/min", 60000}, quantity.Volume: {" L", 1000}, quantity.Slope: {" %", 100},
		quantity.Weight: {" kg", 1}, quantity.Pressure: {" kPa", 0}, quantity.Density: {" kg/m3", 1},
	}
	unit, ok := units[kind]
	if kind != quantity.Size && !ok {
		return text, false
	}
	q, err := quantity.Parse(kind, text)
	if err != nil {
		t.Fatal(err)
	}
	if kind == quantity.Size {
		return fmt.Sprintf("DN %d", q.Fixed()), true
	}
	factor := big.NewRat(unit.inOneSI, 1)
	if kind == quantity.Pressure {
		factor = big.NewRat(1, 1000)
	}
	r := factor.Mul(q.Rat(), factor)
	decimals, exact := r.FloatPrec()
	if !exact {
		decimals = 12
	}
	return r.FloatString(decimals) + unit.symbol, true
}
