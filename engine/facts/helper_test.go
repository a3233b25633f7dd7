package facts

import (
	"encoding/json"
	"strings"
	"testing"

	"backpitch/engine/design"
	"backpitch/engine/finding"
	"backpitch/engine/network"
)

// tables is a small made-up profile: no figure of it is a code's. A water
// closet counts 4, anything else 2; a group counts 5; drains fall 1/4 in/ft up
// to DN 65 and 1/8 in/ft above; 1 L/s pumped counts 30; the peak is 0.1 L/s a unit.
type tables struct{ metric, units bool }

func (t tables) Metric() bool { return t.metric }
func (t tables) Fixture(q FixtureQuery) (FixtureRow, bool) {
	switch q.Kind {
	case "other":
		return FixtureRow{}, false
	case "water_closet":
		return FixtureRow{Class: "closet", Load: ptr(int64(4000))}, true
	}
	return FixtureRow{Class: q.Kind, Load: ptr(int64(2000))}, true
}
func (t tables) LoadByTrap(dn int64) (int64, bool)   { return 7000, dn == 100 }
func (t tables) GroupLoad(flush int64) (int64, bool) { return 5000, flush == 0 || flush <= 6000 }
func (t tables) MinSlope(dn int64) (int64, bool) {
	if dn <= 65 {
		return 20833, true
	}
	return 10417, true
}
func (t tables) Friction() string { return hazenWilliams }
func (t tables) Gravity() string {
	if t.units {
		return colebrookWhite
	}
	return manning
}
func (t tables) LeastFlotation() (int64, bool)      { return 1200, true }
func (t tables) CountsPumps() bool                  { return !t.units }
func (t tables) PumpLoad(flow int64) (int64, bool)  { return flow * 30, !t.units }
func (t tables) PeakFlow(q PeakQuery) (int64, bool) { return q.Load / 10, true }

// read reads a design, of which only the elements are given.
func read(t testing.TB, body string) *design.Document {
	t.Helper()
	body = strings.TrimSpace(body)
	if !strings.Contains(body, `"building"`) {
		body = `"building": {}, ` + body
	}
	d, problems := design.Read("design.json", []byte(`{"project": {"name": "test"}, `+body+`}`), design.Limits{})
	for _, p := range problems {
		t.Errorf("%d:%d: %s", p.Place.Line, p.Place.Col, p.Message)
	}
	if d == nil {
		t.FailNow()
	}
	return d
}

// derive derives the facts of a design that must be free of problems.
func derive(t testing.TB, body string) *Facts {
	t.Helper()
	f, problems := deriveWith(t, read(t, body), tables{})
	for _, p := range problems {
		t.Errorf("%s: %s", p.Code, p.Message)
	}
	return f
}

func deriveWith(t testing.TB, d *design.Document, tab Tables) (*Facts, []finding.Problem) {
	t.Helper()
	n, problems := network.Build(d)
	for _, p := range problems {
		t.Errorf("%s: %s", p.Code, p.Message)
	}
	return DeriveWith(d, n, tab)
}

// at finds a fact by id.
func at[T any](t testing.TB, list []T, id string) T {
	t.Helper()
	for _, x := range list {
		var known struct{ ID string }
		b, _ := json.Marshal(x)
		if json.Unmarshal(b, &known); known.ID == id {
			return x
		}
	}
	t.Fatalf("no fact %q", id)
	panic("unreachable")
}

// want compares a fact that may be absent.
func want(t testing.TB, what string, got *int64, want int64) {
	t.Helper()
	if got == nil {
		t.Errorf("%s is absent, want %d", what, want)
	} else if *got != want {
		t.Errorf("%s = %d, want %d", what, *got, want)
	}
}

func absent[T any](t testing.TB, what string, got *T) {
	t.Helper()
	if got != nil {
		t.Errorf("%s = %v, want it absent", what, *got)
	}
}

const in = 25_400 // micrometres in an inch, exactly
