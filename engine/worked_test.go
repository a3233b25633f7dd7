package engine_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"backpitch/engine"
	"backpitch/engine/design"
	"backpitch/engine/facts"
	"backpitch/engine/finding"
	"backpitch/engine/plant"
	"backpitch/engine/quantity"
)

// problem is a published worked problem. Question, inputs and answer are kept
// as facts and figures in our own words.
type problem struct {
	ID        string         `json:"id"`
	Question  string         `json:"question"`
	Inputs    map[string]any `json:"inputs"`
	Published string         `json:"published"`
	Source    source         `json:"source"`
	Trust     string         `json:"trust"` // good, unverified, wrong key
	WrongKey  string         `json:"wrong_key"`
	Checks    []check        `json:"checks"`
}

// check is one design made for a problem and what must come out for it.
type check struct {
	Name       string            `json:"name"`
	Profile    string            `json:"profile"`
	Design     string            `json:"design"`
	Patch      []plant.Operation `json:"patch"`
	Rule       string            `json:"rule"`
	Subject    string            `json:"subject"`
	Outcome    finding.Outcome   `json:"outcome"`
	Measured   string            `json:"measured"`
	Limit      string            `json:"limit"`
	LimitBasis finding.Basis     `json:"limit_basis"`
	Sum        map[string]string `json:"sum"`   // what the load is made of, by fixture or group
	Facts      map[string]string `json:"facts"` // of the subject, a drain
}

// TestWorkedProblems works published problems through the whole engine. The
// name of each says how far the source can be trusted; the checks say whether
// the figure compared with was checked or is from memory.
func TestWorkedProblems(t *testing.T) {
	var problems []problem
	readJSON(t, "worked/problems.json", &problems)
	if len(problems) < 11 {
		t.Errorf("%d problems, want 11", len(problems))
	}
	for _, p := range problems {
		t.Run(p.ID+" "+p.Trust, func(t *testing.T) {
			if p.Source.Title == "" || p.Source.URL == "" || len(p.Checks) < 2 {
				t.Fatalf("a problem has a source with its address and at least two checks")
			}
			for _, c := range p.Checks {
				t.Run(c.name(), func(t *testing.T) { work(t, p, c) })
			}
		})
	}
}

// name says where the limit comes from when that is from memory.
func (c check) name() string {
	if c.LimitBasis == finding.FromMemory {
		return c.Name + ", limit from memory"
	}
	return c.Name
}

func work(t *testing.T, p problem, c check) {
	data := changed(t, c.Design, c.Patch)
	f := one(t, reviewed(t, data, c.Profile), c.Rule, c.Subject)
	working := fmt.Sprintf("%s\npublished: %s\n%s\n%s gives %s against %s", p.Question, p.Published, p.Source.URL, c.Profile, text(f.Measured), text(f.Limit))
	if len(c.Sum) > 0 {
		working += "\nsum: " + c.sum()
	}
	t.Log(working)
	if f.Outcome != c.Outcome {
		t.Errorf("%s for %s: %s, want %s (missing %v)\n%s", c.Rule, c.Subject, f.Outcome, c.Outcome, f.Missing, working)
	}
	same(t, f.Measured, c.Measured, working)
	same(t, f.Limit, c.Limit, working)
	if c.LimitBasis != "" && f.LimitBasis != c.LimitBasis {
		t.Errorf("the limit is shown as %q, want %q", f.LimitBasis, c.LimitBasis)
	}
	derived := factsOf(t, data, c.Profile)
	c.addsUp(t, derived, working)
	c.drainFacts(t, derived, working)
	if p.WrongKey != "" && fixed(t, quantity.Load, p.WrongKey) == fixed(t, quantity.Load, c.Measured) {
		t.Errorf("the check takes over the wrong key %s\n%s", p.WrongKey, working)
	}
}

// same compares a quantity of a finding with what is wanted, in fixed units.
func same(t *testing.T, q *finding.Quantity, want, working string) {
	t.Helper()
	if want == "" {
		return
	}
	if q == nil || q.Fixed == nil {
		t.Errorf("the finding has no such quantity, want %s\n%s", want, working)
		return
	}
	if w := fixed(t, quantity.Kind(q.Kind), want); *q.Fixed != w {
		t.Errorf("%s (%d), want %s (%d)\n%s", q.Text, *q.Fixed, want, w, working)
	}
}

func fixed(t *testing.T, kind quantity.Kind, s string) int64 {
	t.Helper()
	v, err := quantity.Parse(kind, s)
	if err != nil {
		t.Fatal(err)
	}
	return v.Fixed()
}

// sum writes the load as the sum it is made of.
func (c check) sum() string {
	var parts []string
	for _, id := range slices.Sorted(maps.Keys(c.Sum)) {
		parts = append(parts, c.Sum[id]+" ("+id+")")
	}
	return strings.Join(parts, " + ") + " = " + c.Measured
}

// addsUp holds that the terms of the sum are the loads of the fixtures and add
// up to the load of the drain.
func (c check) addsUp(t *testing.T, derived *facts.Facts, working string) {
	t.Helper()
	if len(c.Sum) == 0 {
		return
	}
	total := int64(0)
	for id, term := range c.Sum {
		load := fixed(t, quantity.Load, term)
		total += load
		for _, f := range derived.Fixtures {
			if f.ID == id && (f.Load == nil || *f.Load != load) {
				t.Errorf("fixture %s does not count %s\n%s", id, term, working)
			}
		}
	}
	if total != fixed(t, quantity.Load, c.Measured) {
		t.Errorf("the terms add up to %d thousandths of a unit\n%s", total, working)
	}
}

// drainFacts compares the facts of the subject, a drain, with those wanted.
func (c check) drainFacts(t *testing.T, derived *facts.Facts, working string) {
	t.Helper()
	if len(c.Facts) == 0 {
		return
	}
	i := slices.IndexFunc(derived.Drains, func(d facts.Drain) bool { return d.ID == c.Subject })
	if i < 0 {
		t.Fatalf("no drain %q", c.Subject)
	}
	d := derived.Drains[i]
	for name, want := range c.Facts {
		kind, got := quantity.Length, map[string]*int64{"fall": d.Fall, "invert_from": d.InvertFrom, "invert_to": d.InvertTo, "slope": d.Slope}[name]
		if name == "slope" {
			kind = quantity.Slope
		}
		if w := fixed(t, kind, want); got == nil || *got != w {
			t.Errorf("%s of %s is %s, want %d (%s)\n%s", name, c.Subject, shown(got), w, want, working)
		}
	}
}

func shown(i *int64) string {
	if i == nil {
		return "not known"
	}
	return fmt.Sprint(*i)
}

// factsOf derives the facts of a design under a profile.
func factsOf(t *testing.T, data []byte, profileID string) *facts.Facts {
	t.Helper()
	doc, problems := design.Read(t.Name(), data, design.DefaultLimits())
	if doc == nil || len(problems) > 0 {
		t.Fatalf("%+v", problems)
	}
	p, err := referenceEngine.Profile(profileID)
	if err != nil {
		t.Fatal(err)
	}
	derived, problems := engine.Derive(t.Name(), doc, p)
	if derived == nil {
		t.Fatalf("%+v", problems)
	}
	return derived
}
