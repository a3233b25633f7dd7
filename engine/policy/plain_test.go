package policy_test

import (
	"fmt"
	"maps"
	"os"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"backpitch/engine/facts"
	"backpitch/engine/finding"
	"backpitch/engine/plant"
	"backpitch/engine/policy"
	"backpitch/engine/profile"
	"backpitch/testdata/designs/varied"
	"backpitch/testdata/speed"
)

// An answer is a verdict as plain Go gives it: what rules in Rego cost is held
// against the same checks written by hand.
type answer struct {
	outcome         finding.Outcome
	op              string
	measured, limit any
}

type plainVerdict struct {
	rule, subject string
	answer
}

// limits are the tables of a profile, as rules written in Go would hold them.
type limits struct {
	number  map[string]int64
	bySize  map[string]map[string]int64
	steps   map[string]map[string][]step
	words   map[string][]string
	wordsOf map[string]map[string][]string
	flag    map[string]bool
}

type step struct{ at, value int64 }

func limitsOf(p *profile.Profile) *limits {
	l := &limits{map[string]int64{}, map[string]map[string]int64{}, map[string]map[string][]step{},
		map[string][]string{}, map[string]map[string][]string{}, map[string]bool{}}
	for group, tables := range p.Data() {
		tables, ok := tables.(map[string]any)
		if !ok {
			continue
		}
		for name, v := range tables {
			l.take(group+"."+name, v)
		}
	}
	return l
}

func (l *limits) take(id string, v any) {
	switch v := v.(type) {
	case int64:
		l.number[id] = v
	case bool:
		l.flag[id] = v
	case []any:
		l.words[id] = wordsIn(v)
	case map[string]any:
		for key, row := range v {
			switch row := row.(type) {
			case int64:
				entry(l.bySize, id)[key] = row
			case []any:
				if _, isStep := row[0].(map[string]any); !isStep {
					entry(l.wordsOf, id)[key] = wordsIn(row)
					continue
				}
				for _, s := range row {
					s := s.(map[string]any)
					value, ok := s["value"].(int64)
					if ok {
						entry(l.steps, id)[key] = append(l.steps[id][key], step{s["at"].(int64), value})
					}
				}
			}
		}
	}
}

func entry[V any](m map[string]map[string]V, id string) map[string]V {
	if m[id] == nil {
		m[id] = map[string]V{}
	}
	return m[id]
}

func wordsIn(list []any) []string {
	var out []string
	for _, x := range list {
		if s, ok := x.(string); ok {
			out = append(out, s)
		}
	}
	return out
}

// at is a number of a table that a rule may lack.
func at[V any](m map[string]V, key string) *V {
	if v, ok := m[key]; ok {
		return &v
	}
	return nil
}

// What follows is lib.judge and lib.table once more.

var open = answer{outcome: finding.Open}

func within(beyond, limit int64) bool {
	return beyond <= 0 || beyond <= 10 && beyond*10_000 <= max(limit, -limit)
}

func came(ok bool) finding.Outcome {
	if ok {
		return finding.Pass
	}
	return finding.Fail
}

func atLeast(measured, limit *int64) answer {
	if measured == nil || limit == nil {
		return open
	}
	return answer{came(within(*limit-*measured, *limit)), "at_least", *measured, *limit}
}

func atMost(measured, limit *int64) answer {
	if measured == nil || limit == nil {
		return open
	}
	return answer{came(within(*measured-*limit, *limit)), "at_most", *measured, *limit}
}

func moreThan(measured, limit *int64) answer {
	if measured == nil || limit == nil {
		return open
	}
	return answer{came(*measured > *limit), "above", *measured, *limit}
}

func between(measured, low, high *int64) answer {
	if measured == nil || low == nil || high == nil {
		return open
	}
	ok := within(*low-*measured, *low) && within(*measured-*high, *high)
	return answer{came(ok), "between", *measured, []int64{*low, *high}}
}

// overRange is the answer for the number expected, unless an end decides
// otherwise.
func overRange(low, expected, high *int64, compare func(*int64) answer) answer {
	if low == nil || expected == nil || high == nil || *low > *expected || *expected > *high {
		return open
	}
	a := compare(expected)
	if a.outcome == finding.Pass && (compare(low).outcome != finding.Pass || compare(high).outcome != finding.Pass) {
		a.outcome = finding.PersonDecides
	}
	return a
}

func atLeastRange(low, expected, high, limit *int64) answer {
	return overRange(low, expected, high, func(m *int64) answer { return atLeast(m, limit) })
}

func atMostRange(low, expected, high, limit *int64) answer {
	return overRange(low, expected, high, func(m *int64) answer { return atMost(m, limit) })
}

func same[V comparable](measured, wanted V) answer {
	return answer{came(measured == wanted), "same", measured, wanted}
}

func isStated(measured *bool, wanted bool) answer {
	if measured == nil {
		return open
	}
	return same(*measured, wanted)
}

func oneOf(word string, allowed []string) answer {
	if word == "" || allowed == nil {
		return open
	}
	return answer{came(slices.Contains(allowed, word)), "one_of", word, allowed}
}

func none(found []string) answer {
	if found == nil {
		found = []string{}
	}
	return answer{came(len(found) == 0), "none", found, []string{}}
}

func inOrder(measured, wanted []string) answer {
	ok := true
	for k, word := range wanted {
		i := slices.Index(measured, word)
		ok = ok && i >= 0 && (k == 0 || slices.Index(measured, wanted[k-1]) < i)
	}
	return answer{came(ok), "in_order", measured, wanted}
}

var (
	personDecides = answer{outcome: finding.PersonDecides, op: "person_decides"}
	notRequired   = answer{outcome: finding.Pass, op: "not_required"}
)

// needing leaves open a pass over something that is not stated.
func (a answer) needing(stated bool) answer {
	if a.outcome == finding.Pass && !stated && a.op != "not_required" {
		a.outcome = finding.Open
	}
	return a
}

func atOrBelow(steps []step, x *int64) *int64 {
	var fits *int64
	for i := range steps {
		if x != nil && within(steps[i].at-*x, steps[i].at) {
			fits = &steps[i].value
		}
	}
	return fits
}

func atOrAbove(steps []step, x *int64) *int64 {
	for i := range steps {
		if x != nil && within(*x-steps[i].at, steps[i].at) {
			return &steps[i].value
		}
	}
	return nil
}

func times(n, x *int64) *int64 {
	if n == nil || x == nil {
		return nil
	}
	product := *n * *x
	return &product
}

func is(flag *bool, value bool) bool { return flag != nil && *flag == value }

// plainJudge runs the rules written in Go.
func plainJudge(rules []plainRule, f *facts.Facts) []plainVerdict {
	out := make([]plainVerdict, 0, 16*len(f.Drains)+64) // as many as rules that ask of drains give, about
	for _, r := range rules {
		r.judge(f, func(subject string, a answer) { out = append(out, plainVerdict{r.id, subject, a}) })
	}
	return out
}

func plainIDs(rules []plainRule) []string {
	ids := make([]string, len(rules))
	for i, r := range rules {
		ids[i] = r.id
	}
	slices.Sort(ids)
	return ids
}

// TestPlainRulesJudgeTheSame holds the rules written in Go against those in
// Rego on every design and every fault: only then may their cost be compared.
func TestPlainRulesJudgeTheSame(t *testing.T) {
	p, prepared := preparedFor(t, "ipc-2021")
	rules := plainRules(limitsOf(p))
	if len(rules) < 25 {
		t.Fatalf("%d rules are written in Go", len(rules))
	}
	texts := designTexts(t)
	faults, err := plant.Load(os.DirFS(designFolder + "/faults"))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range faults {
		base := f.Base
		if base == "" {
			base = "pottery-studio"
		}
		if texts["fault "+f.Name], err = f.Apply(texts[base]); err != nil {
			t.Fatal(err)
		}
	}
	ids := plainIDs(rules)
	seen := map[string]map[string]bool{}
	for _, name := range slices.Sorted(maps.Keys(texts)) {
		f := readable(name, texts[name], p)
		if f == nil {
			continue
		}
		verdicts, err := prepared.Judge(t.Context(), f)
		if err != nil {
			t.Fatal(err)
		}
		want, got := map[string]string{}, map[string]string{}
		for _, v := range verdicts {
			if slices.Contains(ids, v.Rule) {
				want[v.Rule+" "+v.Subject] = fmt.Sprintf("%s %s %v %v", v.Outcome, v.Op, v.Measured, v.Limit)
				entry(seen, v.Rule)[string(v.Outcome)] = true
			}
		}
		for _, v := range plainJudge(rules, f) {
			got[v.rule+" "+v.subject] = fmt.Sprintf("%s %s %v %v", v.outcome, v.op, v.measured, v.limit)
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s (-Rego +Go):\n%s", name, diff)
		}
	}
	for _, id := range ids {
		if !seen[id]["fail"] || !seen[id]["pass"] {
			t.Errorf("%s never passed or never failed on these designs: %v", id, seen[id])
		}
	}
}

// BenchmarkPlain judges the same rules in Rego and in Go, from the same facts
// to the same verdicts, on the demo and on 48 of it in one design.
func BenchmarkPlain(b *testing.B) {
	p, whole := preparedFor(b, "ipc-2021")
	rules := plainRules(limitsOf(p))
	some, err := policy.PrepareSome(b.Context(), os.DirFS(policyFolder), p, plainIDs(rules))
	if err != nil {
		b.Fatal(err)
	}
	demo := designTexts(b)["pottery-studio"]
	many, err := varied.Merged(slices.Repeat([][]byte{demo}, 48)...)
	if err != nil {
		b.Fatal(err)
	}
	for _, d := range []struct {
		name string
		text []byte
	}{{"demo", demo}, {"1000 pipes", many}} {
		f := readable(d.name, d.text, p)
		judge := func(b *testing.B, prepared *policy.Prepared, rules int) {
			b.ReportAllocs()
			defer speed.Count(b)()
			for b.Loop() {
				if _, err := prepared.Judge(b.Context(), f); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(rules), "rules")
		}
		b.Run(d.name+"/Rego", func(b *testing.B) { judge(b, some, len(rules)) })
		b.Run(d.name+"/Rego, all rules", func(b *testing.B) { judge(b, whole, len(whole.Rules())) })
		b.Run(d.name+"/Go", func(b *testing.B) {
			b.ReportAllocs()
			defer speed.Count(b)()
			verdicts := 0
			for b.Loop() {
				verdicts = len(plainJudge(rules, f))
			}
			b.ReportMetric(float64(len(rules)), "rules")
			b.ReportMetric(float64(verdicts), "verdicts")
		})
	}
}
