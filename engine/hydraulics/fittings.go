package hydraulics

import "slices"

// FittingTable names a published table of fitting losses. The spread between
// tables is larger than any difference between friction formulas, so a design
// names its table and keeps to it.
type FittingTable string

// The tables.
const (
	TableHandbook     FittingTable = "handbook"      // loss coefficients K
	TableTextbook     FittingTable = "textbook"      // loss coefficients K
	TableSolver       FittingTable = "solver"        // loss coefficients K
	TableBores        FittingTable = "bores"         // equivalent length in bores, L/D
	TableStateCast    FittingTable = "state_cast"    // equivalent length in feet by size, cast fittings
	TableStateWrought FittingTable = "state_wrought" // equivalent length in feet by size, wrought fittings
)

// FittingLoss is one row of a table: a coefficient or an equivalent length,
// never both, so that a fitting cannot be counted twice.
type FittingLoss struct {
	Table    FittingTable
	Fitting  string
	K        Range // loss coefficient; zero in a table of lengths
	Bores    float64
	FeetByDN map[int]float64
	Basis    Basis
	Source   string
}

// FittingNames lists what a table knows, in order.
func FittingNames(table FittingTable) []string {
	var names []string
	for _, row := range fittingRows {
		if row.Table == table {
			names = append(names, row.Fitting)
		}
	}
	slices.Sort(names)
	return names
}

// FindFitting looks a fitting up in one table.
func FindFitting(table FittingTable, fitting string) (FittingLoss, bool) {
	for _, row := range fittingRows {
		if row.Table == table && row.Fitting == fitting {
			return row, true
		}
	}
	return FittingLoss{}, false
}

// OnPipe is what a fitting adds to a pipe: a coefficient or a length, in
// metres, and the other one zero. It is not ok for a size that a table of
// lengths leaves out.
//
//	K as tabled, or Le = (L/D) D, or Le as tabled for the size
//
// Source: the row; L/D from the equivalent feet sheet of
// piping-designer.com (checked), feet by size from 77 Ill. Adm. Code 890 App. A
// Table Q (checked).
//
// Symbols: DN nominal size; D bore, m; K, -; Le equivalent length, m.
//
// Valid: turbulent flow; nominal sizes of the table.
//
// Worked: FittingLoss.OnPipe("bores", "elbow_90", DN 50, 0.0525018).Length = 1.5751
//
// Worked: FittingLoss.OnPipe("state_cast", "elbow_90", DN 50, 0.0525018).Length = 3.3528
func (f FittingLoss) OnPipe(dn int, bore float64) (k, length float64, ok bool) {
	switch {
	case f.Bores > 0:
		return 0, f.Bores * bore, bore > 0
	case f.FeetByDN != nil:
		feet, ok := f.FeetByDN[dn]
		return 0, feet * foot, ok
	}
	return f.K.Expected, 0, f.K.High > 0
}

// SuddenEnlargement is the loss coefficient of a step to a larger bore,
// referred to the velocity before it. A tank is an endless enlargement, K 1.
//
//	K = (1 - A1/A2)^2
//
// Source: environmental engineering reference, Table 9.2
// (what-when-how.com, checked).
//
// Symbols: D1, D2 bores before and after, m; A areas, m2; K, -.
//
// Valid: D2 >= D1 > 0, turbulent flow.
//
// Worked: SuddenEnlargement(0.0525018, 0.0779272) = 0.2982
func SuddenEnlargement(bore, next float64) (float64, error) {
	const name = "sudden enlargement"
	err := check(name).positive("bore", bore).positive("next bore", next).
		need(next >= bore, "next bore", next, "at least the bore before it").done()
	if err != nil {
		return 0, err
	}
	ratio := bore / next
	free := 1 - ratio*ratio
	return free * free, nil
}

// EquivalentLength is the length of pipe that loses what a coefficient does.
//
//	Le = K D / f
//
// Source: equating MinorLoss and DarcyWeisbach.
//
// Symbols: K, -; D bore, m; f friction factor, -; Le, m.
//
// Valid: K >= 0, D > 0, f > 0.
//
// Worked: EquivalentLength(0.9, 0.0525018, 0.02) = 2.36258
func EquivalentLength(k, bore, factor float64) (float64, error) {
	const name = "equivalent length"
	if err := check(name).notNegative("K", k).positive("bore", bore).positive("friction factor", factor).done(); err != nil {
		return 0, err
	}
	return finiteResult(name, k*bore/factor)
}
