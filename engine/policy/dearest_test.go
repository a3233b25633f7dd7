package policy_test

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"backpitch/engine"
	"backpitch/engine/design"
	"backpitch/engine/facts"
	"backpitch/engine/plant"
	"backpitch/engine/policy"
	"backpitch/engine/profile"
	"backpitch/testdata/designs/varied"
)

const (
	policyFolder = "../../policies"
	designFolder = "../../testdata/designs"
)

// designTexts are the designs of the repository by name.
func designTexts(t testing.TB) map[string][]byte {
	t.Helper()
	out := map[string][]byte{}
	for _, pattern := range []string{"/*.json", "/bases/*.json"} {
		files, err := filepath.Glob(designFolder + pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			out[strings.TrimSuffix(filepath.Base(file), ".json")] = data
		}
	}
	return out
}

// readable is the facts of a design; nil where it contradicts itself.
func readable(name string, text []byte, p *profile.Profile) *facts.Facts {
	doc, problems := design.Read(name, text, design.DefaultLimits())
	if doc == nil || len(problems) > 0 {
		return nil
	}
	f, _ := engine.Derive(name, doc, p)
	return f
}

// mixedDesign is one large design of the sound ones and faults planted in
// them: what rules meet in practice, and all of it.
func mixedDesign(t testing.TB, p *profile.Profile) *facts.Facts {
	t.Helper()
	texts := designTexts(t)
	faults, err := plant.Load(os.DirFS(designFolder + "/faults"))
	if err != nil {
		t.Fatal(err)
	}
	parts := [][]byte{texts["pottery-studio"], texts["pottery-studio-flawed"], texts["row-house"], texts["workshop"], texts["air-valves"]}
	for i, f := range faults {
		if i%3 > 0 {
			continue // a third of them is large enough
		}
		text, err := f.Apply(texts[cmp.Or(f.Base, "pottery-studio")])
		if err != nil {
			t.Fatalf("%s: %v", f.Name, err)
		}
		if readable(f.Name, text, p) != nil {
			parts = append(parts, text)
		}
	}
	whole, err := varied.Merged(parts...)
	if err != nil {
		t.Fatal(err)
	}
	f := readable("mixed", whole, p)
	if f == nil {
		doc, problems := design.Read("mixed", whole, design.DefaultLimits())
		if doc != nil && len(problems) == 0 {
			_, problems = engine.Derive("mixed", doc, p)
		}
		t.Fatal("the designs cannot be merged: ", problems)
	}
	return f
}

func preparedFor(t testing.TB, id string) (*profile.Profile, *policy.Prepared) {
	t.Helper()
	fsys := os.DirFS(policyFolder)
	p, err := profile.Load(fsys, id)
	if err != nil {
		t.Fatal(err)
	}
	prepared, err := policy.Prepare(t.Context(), fsys, p)
	if err != nil {
		t.Fatal(err)
	}
	return p, prepared
}

type ruleCost struct {
	id       string
	subjects int
	whole    time.Duration // of one evaluation, the least of several
}

// BenchmarkEachRule evaluates every rule by itself, on a large design of every
// kind of thing and on the demo, and prints the dearest: what a subject costs
// and what the rule is of the whole. BACKPITCH_RULES=all prints every rule.
func BenchmarkEachRule(b *testing.B) {
	for _, id := range []string{"ipc-2021", "en-12056"} {
		b.Run(id, func(b *testing.B) {
			p, prepared := preparedFor(b, id)
			eachRule(b, "a large mixed design under "+id, prepared, mixedDesign(b, p))
		})
	}
	b.Run("demo", func(b *testing.B) {
		p, prepared := preparedFor(b, "ipc-2021")
		eachRule(b, "the demo", prepared, readable("demo", designTexts(b)["pottery-studio"], p))
	})
}

func eachRule(b *testing.B, name string, prepared *policy.Prepared, f *facts.Facts) {
	input := policy.InputOf(f)
	type asked struct {
		*ruleCost
		ask func() (int, error)
	}
	var rules []asked
	for _, r := range prepared.Rules() {
		ask := prepared.Asked(b.Context(), r.ID, input)
		a := asked{&ruleCost{id: r.ID, whole: time.Hour}, ask}
		rules = append(rules, a)
	}
	timed := func(ask func() (int, error), least *time.Duration) int {
		start := time.Now()
		n, err := ask()
		*least = min(*least, time.Since(start))
		if err != nil {
			b.Fatal(err)
		}
		return n
	}
	for b.Loop() {
		for _, a := range rules {
			for range 3 {
				a.subjects = timed(a.ask, &a.whole)
			}
		}
	}
	costs := make([]*ruleCost, len(rules))
	var sum time.Duration
	for i, a := range rules {
		costs[i] = a.ruleCost
		sum += a.whole
	}
	b.ReportMetric(float64(sum.Microseconds())/1e3, "ms-all-rules")
	// Log would cut it after ten lines.
	fmt.Print("\n", name, ": ", dearest(costs, sum, len(f.Drains)+len(f.Vents)+len(f.Discharges)))
}

func dearest(costs []*ruleCost, sum time.Duration, pipes int) string {
	slices.SortFunc(costs, func(a, b *ruleCost) int { return int(b.whole - a.whole) })
	shown := costs
	if os.Getenv("BACKPITCH_RULES") != "all" {
		shown = costs[:15]
	}
	var out strings.Builder
	fmt.Fprintf(&out, "%d rules, each by itself, take %.1f ms on a design of %d drains, vents and discharges\n", len(costs), ms(sum), pipes)
	fmt.Fprintf(&out, "%-40s %9s %6s %8s %14s\n", "rule", "µs", "share", "subjects", "µs per subject")
	for _, c := range shown {
		each := "-"
		if c.subjects > 0 {
			each = fmt.Sprintf("%.2f", 1e3*ms(c.whole)/float64(c.subjects))
		}
		fmt.Fprintf(&out, "%-40s %9.0f %5.1f%% %8d %14s\n", c.id, 1e3*ms(c.whole), 100*float64(c.whole)/float64(sum), c.subjects, each)
	}
	return out.String()
}

func ms(d time.Duration) float64 { return float64(d.Nanoseconds()) / 1e6 }
