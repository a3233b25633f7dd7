package hydraulics

import (
	"math"
	"slices"
	"sort"
)

// FlowRow is one row of a table from load to peak flow.
type FlowRow struct {
	Load  float64 // fixture units
	Flow  float64 // m3/s
	Basis Basis
}

// FlowTable turns a load in fixture units into a peak flow. Make it with NewFlowTable.
type FlowTable struct {
	name string
	rows []FlowRow
}

// NewFlowTable checks a table: two rows or more, loads and flows strictly rising.
func NewFlowTable(name string, rows []FlowRow) (FlowTable, error) {
	c := check(name).need(len(rows) >= 2, "number of rows", float64(len(rows)), "2 or more")
	for i, r := range rows {
		c.positive("load", r.Load).positive("flow", r.Flow)
		if i > 0 {
			c.need(r.Load > rows[i-1].Load, "load", r.Load, "more than in the row before").
				need(r.Flow > rows[i-1].Flow, "flow", r.Flow, "more than in the row before")
		}
	}
	if err := c.done(); err != nil {
		return FlowTable{}, err
	}
	return FlowTable{name, slices.Clone(rows)}, nil
}

// PeakFlow is a flow read from a table, with the rows it was read between.
type PeakFlow struct {
	Flow          float64 // m3/s
	Lower, Upper  FlowRow
	UnderFirstRow bool  // the load is smaller than the table begins: Flow is its first row
	Basis         Basis // from memory when either row is
}

// FlowAt is the peak flow of a load, straight lines between rows.
//
//	Q = Qa + (Qb - Qa) (F - Fa) / (Fb - Fa)
//
// Source: the table; linear interpolation is the convention of NSPC Table
// B.5.4 (National Standard Plumbing Code, checked). These are water supply
// curves: their use for drainage is common practice, not what they say.
//
// Symbols: F load, fixture units; Q, m3/s.
//
// Valid: 0 < F <= the last row; below the first row the first row is given
// and marked; above the last row it is a RangeError. No load gives no flow.
//
// Worked: FlowTable.FlowAt(NSPC tank, 350).Flow = 0.0059936
func (t FlowTable) FlowAt(load float64) (PeakFlow, error) {
	c := check(t.name).need(len(t.rows) >= 2, "number of rows", float64(len(t.rows)), "2 or more").notNegative("load", load)
	if err := c.done(); err != nil {
		return PeakFlow{}, err
	}
	first, last := t.rows[0], t.rows[len(t.rows)-1]
	switch {
	case load > last.Load:
		return PeakFlow{}, &RangeError{t.name, "load", load, first.Load, last.Load}
	case load == 0:
		return PeakFlow{Lower: first, Upper: first, Basis: first.Basis}, nil
	case load < first.Load:
		return PeakFlow{first.Flow, first, first, true, first.Basis}, nil
	}
	i := max(1, sort.Search(len(t.rows), func(i int) bool { return t.rows[i].Load >= load }))
	a, b := t.rows[i-1], t.rows[i]
	flow := a.Flow + (b.Flow-a.Flow)*((load-a.Load)/(b.Load-a.Load))
	return PeakFlow{Flow: flow, Lower: a, Upper: b, Basis: weaker(a.Basis, b.Basis)}, nil
}

// LoadAt is the load whose peak flow is Q, the inverse of FlowAt.
//
//	F = Fa + (Fb - Fa) (Q - Qa) / (Qb - Qa)
//
// Source: the table, read backwards.
//
// Symbols: Q flow, m3/s; F, fixture units.
//
// Valid: flows from the first to the last row; outside it is a RangeError.
//
// Worked: FlowTable.LoadAt(NSPC tank, 0.0059935709) = 350.0
func (t FlowTable) LoadAt(flow float64) (float64, error) {
	c := check(t.name).need(len(t.rows) >= 2, "number of rows", float64(len(t.rows)), "2 or more").notNegative("flow", flow)
	if err := c.done(); err != nil {
		return 0, err
	}
	first, last := t.rows[0], t.rows[len(t.rows)-1]
	if flow < first.Flow || flow > last.Flow {
		return 0, &RangeError{t.name, "flow", flow, first.Flow, last.Flow}
	}
	i := max(1, sort.Search(len(t.rows), func(i int) bool { return t.rows[i].Flow >= flow }))
	a, b := t.rows[i-1], t.rows[i]
	return a.Load + (b.Load-a.Load)*((flow-a.Flow)/(b.Flow-a.Flow)), nil
}

func weaker(a, b Basis) Basis {
	if a == FromMemory {
		return a
	}
	return b
}

// LoadOfRate is the load that a steady discharge, such as a pump's, counts for
// where a code gives fixture units for each unit of flow.
//
//	F = u Q
//
// Source: 2 fixture units a gpm (US model codes, from memory; Wisconsin SPS
// 382 course notes, checked); 31.7 a litre a second (O. Reg. 332/12,
// 7.4.10.3.(1), checked). Both are nearly 31700 a m3/s.
//
// Symbols: Q rate, m3/s; u fixture units for 1 m3/s; F, fixture units.
//
// Valid: Q >= 0, u > 0.
//
// Worked: LoadOfRate(0.0013249, 31700.6) = 42.0
func LoadOfRate(rate, unitsPerFlow float64) (float64, error) {
	if err := check("load of a rate").notNegative("rate", rate).positive("units per flow", unitsPerFlow).done(); err != nil {
		return 0, err
	}
	return finiteResult("load of a rate", rate*unitsPerFlow)
}

// DischargeFlow is a design flow from discharge units.
type DischargeFlow struct {
	Sum             float64 // m3/s, of discharge units
	Largest         float64 // m3/s, one discharge unit
	Formula         float64 // m3/s, K times the root of the sum
	GovernedByUnits bool    // the largest unit is more than the formula gives
	Wastewater      float64 // m3/s, the greater of both
	Total           float64 // m3/s, with continuous and pumped flow
}

// DischargeUnits is the design flow of a drain by discharge units. Flows of
// two branches may not be added: their units are added and the root taken anew.
//
//	Qww = max(K sqrt(sum DU), largest DU), Qtot = Qww + Qc + Qp, all in litres a second
//
// Source: EN 12056-2:2000 Tables 2 and 3 (scribd.com/document/361076784,
// checked); largest unit as floor (impeller.net encyclopedia, checked).
//
// Symbols: DU discharge units, here m3/s (1 DU = 1 l/s); K frequency of use,
// 0.5 to 1.2; Qc continuous, Qp pumped flow, m3/s.
//
// Valid: K > 0, units >= 0. No units give no wastewater flow.
//
// Worked: DischargeUnits(0.5, 0.002 0.0005 0.0006, 0, 0).Formula = 0.00088034
//
// Worked: DischargeUnits(0.5, 0.002 0.0005 0.0006, 0, 0).Total = 0.002
func DischargeUnits(frequency float64, units []float64, continuous, pumped float64) (DischargeFlow, error) {
	const name = "discharge units"
	c := check(name).positive("frequency factor", frequency).notNegative("continuous flow", continuous).notNegative("pumped flow", pumped)
	var f DischargeFlow
	for _, u := range units {
		c.notNegative("discharge unit", u)
		f.Sum += u
		f.Largest = math.Max(f.Largest, u)
	}
	if err := c.done(); err != nil {
		return DischargeFlow{}, err
	}
	f.Formula = frequency * math.Sqrt(f.Sum/litre) * litre
	f.GovernedByUnits = f.Largest > f.Formula
	f.Wastewater = math.Max(f.Formula, f.Largest)
	f.Total = f.Wastewater + continuous + pumped
	if _, err := finiteResult(name, f.Total); err != nil {
		return DischargeFlow{}, err
	}
	return f, nil
}
