package engine_test

import (
	"context"
	"encoding/json"
	"fmt"
	"math/big"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"backpitch/engine"
	"backpitch/engine/quantity"
	"backpitch/policies"
)

// A design means the same whatever units it is written in: the demos with every
// measure in SI units (NIST SP 811 factors) get the same outcomes, subject by
// subject, and the same findings in words.
func TestUnitsOfTheDesignChangeNoOutcome(t *testing.T) {
	eng := engine.New(engine.Options{Policies: policies.FS()})
	for _, design := range []string{"pottery-studio.json", "pottery-studio-flawed.json", "bases/workshop.json"} {
		for _, profile := range []string{"ipc-2021", "upc-2021", "en-12056", "wisconsin-sump"} {
			t.Run(design+" "+profile, func(t *testing.T) {
				data, err := os.ReadFile("../testdata/designs/" + design)
				if err != nil {
					t.Fatal(err)
				}
				metric, changed := inMetric(t, data)
				if changed < 100 {
					t.Fatalf("%d measures rewritten", changed)
				}
				outcomes := func(data []byte) []string {
					r := eng.Review(context.Background(), engine.Submission{Name: "d.json", Data: data}, profile)
					if len(r.Problems) > 0 || r.Failure != "" {
						t.Fatal(r.Problems, r.Failure)
					}
					var list []string
					for _, f := range r.Findings {
						list = append(list, fmt.Sprintf("%s %s %s: %s", f.Rule, f.Subject, f.Outcome, f.Message))
					}
					return sorted(list)
				}
				if diff := cmp.Diff(outcomes(data), outcomes(metric)); diff != "" {
					t.Errorf("outcomes change with the units (-as written +in SI):\n%s", diff)
				}
			})
		}
	}
}

// sorted orders by text: places differ in the rewritten file.
func sorted(list []string) []string {
	out := append([]string{}, list...)
	for i := range out {
		for j := i; j > 0 && out[j] < out[j-1]; j-- {
			out[j], out[j-1] = out[j-1], out[j]
		}
	}
	return out
}

// inMetric rewrites every measure of a design and counts them.
func inMetric(t *testing.T, data []byte) ([]byte, int) {
	t.Helper()
	var v any
	if err := json.Unmarshal(data, &v); err != nil {
		t.Fatal(err)
	}
	n := 0
	v = rewrite(v, "", &n)
	out, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return out, n
}

func rewrite(v any, key string, n *int) any {
	switch v := v.(type) {
	case map[string]any:
		for k := range v {
			v[k] = rewrite(v[k], k, n)
		}
	case []any:
		for i := range v {
			v[i] = rewrite(v[i], key, n)
		}
	case string:
		if text, ok := metric(key, v); ok {
			*n++
			return text
		}
	}
	return v
}

// metric writes one measure in SI units: lengths to the nanometre, which holds
// every 64th of an inch, slopes as the ratio they are.
func metric(key, s string) (string, bool) {
	switch key {
	case "size", "outlet":
		v, err := quantity.Parse(quantity.Size, s)
		if err != nil {
			return "", false
		}
		return quantity.SizeKey(v.Fixed()), true
	case "name", "label", "bedding", "datum", "id", "kind", "reference", "revision":
		return "", false
	}
	for _, k := range []struct {
		kind   quantity.Kind
		unit   string
		scale  int64
		digits int
	}{{quantity.Length, "mm", 1000, 6}, {quantity.Flow, "L/s", 1000, 12}, {quantity.Volume, "L", 1000, 12}, {quantity.Weight, "kg", 1, 9},
		{quantity.Density, "kg/m3", 1, 12}, {quantity.Slope, "", 0, 0}} {
		v, err := quantity.Parse(k.kind, s)
		if err != nil {
			continue
		}
		r := v.Rat()
		if k.kind == quantity.Slope {
			if r.Sign() <= 0 {
				return "", false
			}
			return "1:" + strings.TrimRight(strings.TrimRight(new(big.Rat).Inv(r).FloatString(12), "0"), "."), true
		}
		return r.Mul(r, big.NewRat(k.scale, 1)).FloatString(k.digits) + " " + k.unit, true
	}
	return "", false
}
