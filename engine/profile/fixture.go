package profile

// Fixture is one row of the fixture table. The first row that fits a fixture
// gives its class, load and least trap.
type Fixture struct {
	Class     string
	Kind      string
	Use       string // "" for any
	FlushType string // "" for any
	Emergency *bool  // nil for any
	Flush     *int64 // at most, mL
	Flow      *int64 // at most, mL/s
	TrapAt    *int64 // trap at most, DN
	Assume    bool   // it also fits where the design does not state a value
	Load      *int64 // thousandths of a unit
	Trap      *int64 // least trap, DN
	Cite
}

// FixtureQuery is what a design says of a fixture; zero values are unknown.
type FixtureQuery struct {
	Kind      string
	Use       string
	FlushType string
	Emergency *bool
	Flush     *int64 // mL
	Flow      *int64 // mL/s
	TrapDN    *int64
}

// Fixture returns the first row that fits, false where none does.
func (p *Profile) Fixture(q FixtureQuery) (Fixture, bool) {
	for _, row := range p.Fixtures {
		if row.fits(q) {
			return row, true
		}
	}
	return Fixture{}, false
}

func (f Fixture) fits(q FixtureQuery) bool {
	if f.Kind != q.Kind {
		return false
	}
	return f.word(f.Use, q.Use) && f.word(f.FlushType, q.FlushType) &&
		f.emergency(q.Emergency) && f.bound(f.Flush, q.Flush) && f.bound(f.Flow, q.Flow) && f.bound(f.TrapAt, q.TrapDN)
}

func (f Fixture) word(row, design string) bool {
	return row == "" || row == design || design == "" && f.Assume
}

func (f Fixture) emergency(design *bool) bool {
	switch {
	case f.Emergency == nil:
		return true
	case design == nil:
		return f.Assume
	}
	return *f.Emergency == *design
}

func (f Fixture) bound(row, design *int64) bool {
	switch {
	case row == nil:
		return true
	case design == nil:
		return f.Assume
	}
	return within(*design-*row, *row)
}

// covers reports whether every fixture that fits g also fits f, so that a row
// g after f is never reached.
func (f Fixture) covers(g Fixture) bool {
	if f.Kind != g.Kind || (g.Assume && !f.Assume && f.conditional()) {
		return false
	}
	return (f.Use == "" || f.Use == g.Use) && (f.FlushType == "" || f.FlushType == g.FlushType) &&
		(f.Emergency == nil || g.Emergency != nil && *f.Emergency == *g.Emergency) &&
		holds(f.Flush, g.Flush) && holds(f.Flow, g.Flow) && holds(f.TrapAt, g.TrapAt)
}

func (f Fixture) conditional() bool {
	return f.Use != "" || f.FlushType != "" || f.Emergency != nil || f.Flush != nil || f.Flow != nil || f.TrapAt != nil
}

func holds(wide, narrow *int64) bool {
	return wide == nil || narrow != nil && *narrow <= *wide
}

// Group is a row for a bathroom group, which some codes count as one.
type Group struct {
	Class string
	Flush *int64 // of its water closet, at most, mL
	Load  int64
	Cite
}

// BathroomGroup returns the first group row that fits a water closet's flush,
// nil where the design does not state it; false where the profile counts none.
func (p *Profile) BathroomGroup(flush *int64) (Group, bool) {
	for _, g := range p.Groups {
		if g.Flush == nil || flush != nil && within(*flush-*g.Flush, *g.Flush) {
			return g, true
		}
	}
	return Group{}, false
}

// Ids of the tables that facts read by name.
const (
	TableMinSlope    = "drain.min_slope"       // keys size
	TableLoadByTrap  = "fixture.load_by_trap"  // keys size, value load
	TableLoadPerFlow = "fixture.load_per_flow" // no keys, value load_per_flow
	TableFlushValves = "flow.curve_flush_valve"
	TableFlotation   = "basin.min_flotation_factor"
)

// FactTables are the tables that facts read, whatever rules are adopted.
func (p *Profile) FactTables() []string {
	return []string{TableMinSlope, TableLoadByTrap, TableLoadPerFlow, TableFlushValves, TableFlotation, p.Method.FlowCurve}
}

// MinSlope returns the least slope of a drain of that size, in ppm.
func (p *Profile) MinSlope(size string) (Entry, bool) {
	return p.Table(TableMinSlope).Lookup(ByWord(size))
}

// LoadByTrap returns the load of a fixture that no row names, by its trap.
func (p *Profile) LoadByTrap(size string) (Entry, bool) {
	return p.Table(TableLoadByTrap).Lookup(ByWord(size))
}

// LoadPerFlow returns the load that stands for a continuous flow, in the fixed
// unit of quantity.LoadPerFlow: mL/s times it, over a million, is thousandths
// of a fixture unit.
func (p *Profile) LoadPerFlow() (Entry, bool) {
	return p.Table(TableLoadPerFlow).Lookup()
}

// FlowPoint is a point of a flow curve.
type FlowPoint struct {
	Load, Flow int64 // thousandths of a unit, mL/s
	Cite
}

// FlowCurve returns the points of the method's flow curve by rising load, nil
// where the profile has none.
func (p *Profile) FlowCurve() []FlowPoint {
	t := p.Table(p.Method.FlowCurve)
	if t == nil {
		return nil
	}
	out := make([]FlowPoint, 0, len(t.root.steps))
	for _, s := range t.root.steps {
		flow, _ := s.next.entry.Int()
		out = append(out, FlowPoint{s.at, flow, s.next.entry.Cite})
	}
	return out
}
