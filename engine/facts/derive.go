package facts

import (
	"slices"

	"backpitch/engine/calcs"
	"backpitch/engine/design"
	"backpitch/engine/finding"
	"backpitch/engine/network"
)

// Tables is what facts need of a profile. Whole numbers are in the fixed unit
// of their kind. A lookup that the profile does not answer is false, and the
// facts that rest on it are absent.
type Tables interface {
	// Metric says whether the profile counts in SI units, so that DN 100 is
	// 100 mm across; in US units it is 4 in.
	Metric() bool
	// Fixture finds the class, load and least trap of a fixture.
	Fixture(FixtureQuery) (FixtureRow, bool)
	// LoadByTrap is the load of a fixture that no row names, by its trap.
	LoadByTrap(dn int64) (load int64, ok bool)
	// GroupLoad is the load of a bathroom group by the flush volume of its
	// water closet, in millilitres; 0 where it is not stated.
	GroupLoad(flush int64) (load int64, ok bool)
	// MinSlope is the least slope of a horizontal drain of this size.
	MinSlope(dn int64) (slope int64, ok bool)
	// PumpLoad is the load that a continuous or pumped flow stands for.
	PumpLoad(flow int64) (load int64, ok bool)
	// CountsPumps says whether pumped flow is counted as load at all; where
	// it is not, it is added to the design flow only.
	CountsPumps() bool
	// Friction names how the friction of a pumped line is computed:
	// hazen_williams or darcy_weisbach.
	Friction() string
	// Gravity names how a part-full drain is computed: manning or
	// colebrook_white.
	Gravity() string
	// LeastFlotation is the factor that must hold an empty basin down.
	LeastFlotation() (factor int64, ok bool)
	// PeakFlow is the peak flow of a load by the profile's method.
	PeakFlow(PeakQuery) (flow int64, ok bool)
}

// FixtureQuery is what decides the class of a fixture. Nil is not stated.
type FixtureQuery struct {
	Kind      string
	Use       string
	FlushType string
	Emergency *bool
	Flush     *int64 // mL
	Flow      *int64 // mL/s
	TrapDN    *int64
}

// FixtureRow is the profile's answer. Nil is not tabled.
type FixtureRow struct {
	Class string
	Load  *int64
}

// PeakQuery is what decides a peak flow.
type PeakQuery struct {
	Load        int64 // of what flows by gravity, pumped and continuous flow apart
	Largest     int64 // load of the one largest fixture
	FlushValves bool
	Use         string // intermittent, frequent, congested or special; "" where not stated
}

// DeriveWith is Derive with the answers of any tables.
func DeriveWith(d *design.Document, n *network.Network, t Tables) (*Facts, []finding.Problem) {
	return deriveInto(d, n, t, nil)
}

// deriveInto computes the facts and, where a record is asked for, writes down how.
func deriveInto(d *design.Document, n *network.Network, t Tables, rec *calcs.Record) (*Facts, []finding.Problem) {
	v := &derivation{d: d, n: n, t: t, facts: &Facts{}, rec: rec}
	v.readPipes()
	v.readFixtures()
	v.liesFromSlopes()
	v.inverts()
	v.liesFromInverts()
	v.armPart = make([]string, len(v.pipes))
	v.readPumps()
	v.loads()
	v.roles()
	v.protection()
	v.vents()
	v.project()
	v.building()
	v.fixtureFacts()
	v.trapArms()
	v.drains()
	v.wetVents()
	v.ventFacts()
	v.terminals()
	v.fittings()
	v.joints()
	v.cleanouts()
	v.basins()
	v.pumpFacts()
	v.discharges()
	v.connections()
	v.backwater()
	v.byID()
	return v.facts, v.problems
}

// derivation is the work of one Derive. Slices are indexed by edge, node or
// item as the network numbers them.
type derivation struct {
	d     *design.Document
	n     *network.Network
	t     Tables
	facts *Facts
	rec   *calcs.Record // nil where nobody asks how

	problems []finding.Problem

	pipes    []pipe
	nodes    []node
	fixtures []fixture // by item
	pumps    []pump    // by item
	arms     []arm     // by edge
	air      []airway  // by edge
	airIn    [][2]int  // by node: the drains that bring air to it
	lineOf   []int     // by edge: line of circuit or combination venting, or None
	lineVent []int     // by line: node with its vent, or None
	open     []int64   // by edge: unvented fixtures on it
	arriving []int64   // by node: unvented fixtures that get air there
	armPart  []string  // by edge: fixture whose trap arm it is part of
	endAt    []ventEnd // by node
	serves   []served  // by node
	bases    []int     // by edge: lowest pipe of its stack

	fallByBasin map[int]*int64
	kinds       []string // fixture kinds in order; bit i of a kind set
	closets     uint64   // bit of water_closet
	gravity     []fallTo // by item of fixture
	endOf       []end    // by node
	total       []spread // by node: rate of all pumps of a basin at once
	meets       []int    // by lift: node where a line of the same basin is met
}

// node is what is known at one node.
type node struct {
	invert *rat // where waste leaves, or where it arrives at a basin or connection
	sums   sums // of everything that arrives and starts here
	less   sums // counted twice where the lines of two pumps meet again
}

// byID puts every group in order of id.
func (v *derivation) byID() {
	f := v.facts
	sortByID(f.Fixtures, func(x *Fixture) string { return x.ID })
	sortByID(f.TrapArms, func(x *TrapArm) string { return x.ID })
	sortByID(f.Drains, func(x *Drain) string { return x.ID })
	sortByID(f.WetVents, func(x *WetVent) string { return x.ID })
	sortByID(f.Vents, func(x *Vent) string { return x.ID })
	sortByID(f.Terminals, func(x *Terminal) string { return x.ID })
	sortByID(f.AirValves, func(x *AirAdmittanceValve) string { return x.ID })
	sortByID(f.Fittings, func(x *Fitting) string { return x.ID })
	sortByID(f.Joints, func(x *Joint) string { return x.ID })
	sortByID(f.Cleanouts, func(x *Cleanout) string { return x.ID })
	sortByID(f.CleanoutNeeds, func(x *CleanoutNeed) string { return x.ID })
	sortByID(f.CleanoutRuns, func(x *CleanoutRun) string { return x.ID })
	sortByID(f.Basins, func(x *Basin) string { return x.ID })
	sortByID(f.Pumps, func(x *Pump) string { return x.ID })
	sortByID(f.Discharges, func(x *Discharge) string { return x.ID })
	sortByID(f.Valves, func(x *Valve) string { return x.ID })
	sortByID(f.Connections, func(x *Connection) string { return x.ID })
	sortByID(f.Backwater, func(x *BackwaterValve) string { return x.ID })
	f.fillEmpty()
	slices.SortStableFunc(v.problems, func(x, y finding.Problem) int {
		if x.Place.Line != y.Place.Line {
			return x.Place.Line - y.Place.Line
		}
		if x.Place.Col != y.Place.Col {
			return x.Place.Col - y.Place.Col
		}
		return compareText(x.Message, y.Message)
	})
}

// fillEmpty makes absent groups empty lists, so that they print as [] and not as null.
func (f *Facts) fillEmpty() {
	fill(&f.Fixtures)
	fill(&f.TrapArms)
	fill(&f.Drains)
	fill(&f.WetVents)
	fill(&f.Vents)
	fill(&f.Terminals)
	fill(&f.AirValves)
	fill(&f.Fittings)
	fill(&f.Joints)
	fill(&f.Cleanouts)
	fill(&f.CleanoutNeeds)
	fill(&f.CleanoutRuns)
	fill(&f.Basins)
	fill(&f.Pumps)
	fill(&f.Discharges)
	fill(&f.Valves)
	fill(&f.Connections)
	fill(&f.Backwater)
}
