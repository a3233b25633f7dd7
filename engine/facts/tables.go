package facts

import (
	"math"

	"backpitch/engine/calcs"
	"backpitch/engine/design"
	"backpitch/engine/finding"
	"backpitch/engine/hydraulics"
	"backpitch/engine/network"
	"backpitch/engine/profile"
	"backpitch/engine/quantity"
)

// Derive computes everything the design implies under a profile. It changes
// nothing it is given, is safe to call at once on the same values, and its
// problems have no file name, which the caller fills in.
func Derive(d *design.Document, n *network.Network, p *profile.Profile) (*Facts, []finding.Problem) {
	return DeriveWith(d, n, FromProfile(p))
}

// DeriveRecorded is Derive that also writes down how each number came about.
func DeriveRecorded(d *design.Document, n *network.Network, p *profile.Profile) (*Facts, *calcs.Record, []finding.Problem) {
	rec := &calcs.Record{}
	f, problems := deriveInto(d, n, FromProfile(p), rec)
	return f, rec, problems
}

// FromProfile answers from the tables of a profile.
func FromProfile(p *profile.Profile) Tables {
	t := &profileTables{p: p}
	if e, ok := p.LoadPerFlow(); ok {
		t.perFlow, _ = e.Int()
	}
	var rows []hydraulics.FlowRow
	for _, pt := range p.FlowCurve() {
		rows = append(rows, flowRow(pt.Load, pt.Flow))
	}
	t.tanks = flowTable(p.Method.FlowCurve, rows)
	t.valves = flowTable(tableFlushValves, namedRows(p.Table(tableFlushValves)))
	return t
}

// tableFlushValves is the flow curve for buildings whose water closets are
// mostly flushed by valves, beside the method's own curve.
const tableFlushValves = "flow.curve_flush_valve"

type profileTables struct {
	p       *profile.Profile
	perFlow int64 // fixed unit of load_per_flow; 0 where the profile has none
	tanks   *hydraulics.FlowTable
	valves  *hydraulics.FlowTable
}

func flowRow(load, flow int64) hydraulics.FlowRow {
	return hydraulics.FlowRow{Load: float64(load) / 1000, Flow: float64(flow) / flowScale}
}

func flowTable(name string, rows []hydraulics.FlowRow) *hydraulics.FlowTable {
	t, err := hydraulics.NewFlowTable(name, rows)
	if err != nil {
		return nil
	}
	return &t
}

// namedRows reads a flow curve that is not the method's own.
func namedRows(t *profile.Table) []hydraulics.FlowRow {
	var rows []hydraulics.FlowRow
	for _, e := range t.Rows() {
		flow, ok := e.Int()
		if !ok || len(e.Key) != 1 {
			return nil
		}
		load, err := quantity.Parse(quantity.Load, e.Key[0])
		if err != nil {
			return nil
		}
		rows = append(rows, flowRow(load.Fixed(), flow))
	}
	return rows
}

func (t *profileTables) Metric() bool { return t.p.Units == quantity.SI }

func (t *profileTables) Fixture(q FixtureQuery) (FixtureRow, bool) {
	f, ok := t.p.Fixture(profile.FixtureQuery(q))
	return FixtureRow{Class: f.Class, Load: f.Load}, ok
}

func (t *profileTables) LoadByTrap(dn int64) (int64, bool) {
	e, ok := t.p.LoadByTrap(quantity.SizeKey(dn))
	if !ok {
		return 0, false
	}
	return e.Int()
}

func (t *profileTables) GroupLoad(flush int64) (int64, bool) {
	g, ok := t.p.BathroomGroup(some(flush))
	return g.Load, ok
}

func (t *profileTables) MinSlope(dn int64) (int64, bool) {
	e, ok := t.p.MinSlope(quantity.SizeKey(dn))
	if !ok {
		return 0, false
	}
	return e.Int()
}

func (t *profileTables) CountsPumps() bool { return t.p.Method.Load == "fixture_units" }

// Names of methods.
const (
	hazenWilliams  = "hazen_williams"
	darcyWeisbach  = "darcy_weisbach"
	manning        = "manning"
	colebrookWhite = "colebrook_white"
)

func (t *profileTables) Friction() string {
	if t.p.Method.Friction != "" {
		return t.p.Method.Friction
	}
	return hazenWilliams
}

// Gravity: the capacity tables that go with discharge units are computed by
// Colebrook-White (EN 12056-2 Annex B, from memory).
func (t *profileTables) Gravity() string {
	switch {
	case t.p.Method.Gravity != "":
		return t.p.Method.Gravity
	case t.CountsPumps():
		return manning
	}
	return colebrookWhite
}

func (t *profileTables) LeastFlotation() (int64, bool) {
	e, ok := t.p.Table("basin.min_flotation_factor").Lookup()
	if !ok {
		return 0, false
	}
	return e.Int()
}

func (t *profileTables) PumpLoad(flow int64) (int64, bool) {
	if t.perFlow == 0 || !t.CountsPumps() {
		return 0, false
	}
	load, err := hydraulics.LoadOfRate(float64(flow)/flowScale, float64(t.perFlow)*flowScale/1e9)
	if err != nil || load > float64(mostLoad) {
		return 0, false
	}
	return int64(math.Round(load * 1000)), true
}

// PeakFlow reads the flow curve, or takes K times the root of the discharge
// units, a litre a second each, and at least the largest one.
func (t *profileTables) PeakFlow(q PeakQuery) (int64, bool) {
	if t.CountsPumps() {
		curve := t.tanks
		if q.FlushValves {
			curve = t.valves
		}
		if curve == nil {
			return 0, false
		}
		at, err := curve.FlowAt(float64(q.Load) / 1000)
		if err != nil {
			return 0, false
		}
		return int64(math.Round(at.Flow * flowScale)), true
	}
	k, ok := t.p.Method.K[q.Use]
	if !ok {
		return 0, false
	}
	f, err := hydraulics.DischargeUnits(float64(k)/1000, []float64{float64(q.Load) / flowScale}, 0, 0)
	if err != nil {
		return 0, false
	}
	return max(int64(math.Round(f.Formula*flowScale)), q.Largest), true
}

// explain gives the formula of PeakFlow and what goes into it.
func (t *profileTables) explain(q PeakQuery) (formula string, values []float64, ok bool) {
	load := float64(q.Load) / 1000
	if !t.CountsPumps() {
		k, ok := t.p.Method.K[q.Use]
		return "peak_units", []float64{float64(k) / 1000, load, float64(q.Largest) / 1000}, ok
	}
	curve := t.tanks
	if q.FlushValves {
		curve = t.valves
	}
	if curve == nil {
		return "", nil, false
	}
	at, err := curve.FlowAt(load)
	switch {
	case err != nil:
		return "", nil, false
	case at.UnderFirstRow:
		return "peak_first_row", []float64{at.Flow}, true
	}
	return "peak_curve", []float64{load, at.Lower.Load, at.Upper.Load, at.Lower.Flow, at.Upper.Flow}, true
}
