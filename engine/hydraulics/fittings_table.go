package hydraulics

const (
	sourceHandbook = "environmental engineering reference, Table 9.2, what-when-how.com/Tutorial/topic-336iqteu0"
	sourceTextbook = "Environmental Engineering, 4th ed., Table 6-4, issuhub.com/view/index/3851?pageIndex=144"
	sourceSolver   = "EPANET 2 users manual, table of minor loss coefficients"
	sourceBores    = "equivalent feet of straight pipe, piping-designer.com/index.php/datasheets/piping-layout-information/2706-equivalent-feet-of-straight-pipe"
	sourceState    = "77 Ill. Adm. Code 890 App. A Table Q (potable water piping), law.cornell.edu/regulations/illinois"
	sourceTrade    = "common practice"
)

func kRow(table FittingTable, fitting string, low, expected, high float64, basis Basis, source string) FittingLoss {
	return FittingLoss{Table: table, Fitting: fitting, K: Range{low, expected, high}, Basis: basis, Source: source}
}

func boresRow(fitting string, bores float64) FittingLoss {
	return FittingLoss{Table: TableBores, Fitting: fitting, Bores: bores, Basis: Checked, Source: sourceBores}
}

// feetRow takes the feet for 1-1/4, 1-1/2, 2, 2-1/2 and 3 in; 0 is not tabled.
func feetRow(table FittingTable, fitting string, feet ...float64) FittingLoss {
	by := map[int]float64{}
	for i, dn := range []int{32, 40, 50, 65, 80} {
		if feet[i] > 0 {
			by[dn] = feet[i]
		}
	}
	return FittingLoss{Table: table, Fitting: fitting, FeetByDN: by, Basis: Checked, Source: sourceState}
}

var fittingRows = []FittingLoss{
	kRow(TableHandbook, "entrance_flush", 0.50, 0.50, 0.50, Checked, sourceHandbook),
	kRow(TableHandbook, "entrance_projecting", 0.5, 0.7, 0.9, Checked, sourceHandbook),
	kRow(TableHandbook, "entrance_bell", 0.03, 0.05, 0.1, Checked, sourceHandbook),
	kRow(TableHandbook, "exit", 1, 1, 1, Checked, sourceHandbook),
	kRow(TableHandbook, "elbow_90", 0.3, 0.45, 0.6, Checked, sourceHandbook),
	kRow(TableHandbook, "elbow_90_long", 0.07, 0.2, 0.33, Checked, sourceHandbook),
	kRow(TableHandbook, "elbow_90_mitred", 1.10, 1.10, 1.10, Checked, sourceHandbook),
	kRow(TableHandbook, "elbow_45", 0.10, 0.10, 0.10, Checked, sourceHandbook),
	kRow(TableHandbook, "elbow_45_mitred", 0.35, 0.4, 0.44, Checked, sourceHandbook),
	kRow(TableHandbook, "check_swing", 0.29, 1.0, 2.2, Checked, sourceHandbook),
	kRow(TableHandbook, "gate_valve", 0.1, 0.15, 0.3, Checked, sourceHandbook),

	kRow(TableTextbook, "entrance_flush", 0.5, 0.5, 0.5, Checked, sourceTextbook),
	kRow(TableTextbook, "exit", 1, 1, 1, Checked, sourceTextbook),
	kRow(TableTextbook, "elbow_90", 0.9, 0.9, 0.9, Checked, sourceTextbook),
	kRow(TableTextbook, "elbow_90_medium", 0.75, 0.75, 0.75, Checked, sourceTextbook),
	kRow(TableTextbook, "elbow_90_long", 0.6, 0.6, 0.6, Checked, sourceTextbook),
	kRow(TableTextbook, "elbow_45", 0.675, 0.675, 0.675, Checked, sourceTextbook),
	kRow(TableTextbook, "check_swing", 0.6, 1.5, 2.5, Checked, sourceTextbook),

	kRow(TableSolver, "entrance_flush", 0.5, 0.5, 0.5, FromMemory, sourceSolver),
	kRow(TableSolver, "exit", 1, 1, 1, FromMemory, sourceSolver),
	kRow(TableSolver, "elbow_90", 0.9, 0.9, 0.9, FromMemory, sourceSolver),
	kRow(TableSolver, "elbow_90_medium", 0.8, 0.8, 0.8, FromMemory, sourceSolver),
	kRow(TableSolver, "elbow_90_long", 0.6, 0.6, 0.6, FromMemory, sourceSolver),
	kRow(TableSolver, "elbow_45", 0.4, 0.4, 0.4, FromMemory, sourceSolver),
	kRow(TableSolver, "tee_run", 0.6, 0.6, 0.6, FromMemory, sourceSolver),
	kRow(TableSolver, "tee_branch", 1.8, 1.8, 1.8, FromMemory, sourceSolver),
	kRow(TableSolver, "check_swing", 2.5, 2.5, 2.5, FromMemory, sourceSolver),
	kRow(TableSolver, "gate_valve", 0.2, 0.2, 0.2, FromMemory, sourceSolver),
	kRow(TableSolver, "ball_valve", 0.05, 0.08, 0.1, FromMemory, sourceTrade),
	kRow(TableSolver, "wye_branch", 0.6, 0.8, 1.0, FromMemory, sourceTrade),

	// The sheet drops the check valve to 50 bores from 8 in up, a size no
	// pumped discharge of a building reaches.
	boresRow("gate_valve", 8), boresRow("ball_valve", 8), boresRow("elbow_90", 30),
	boresRow("elbow_90_long", 16), boresRow("elbow_45", 16), boresRow("tee_run", 20),
	boresRow("tee_branch", 60), boresRow("check_swing", 100),

	feetRow(TableStateWrought, "elbow_45", 1, 2, 2, 3, 4),
	feetRow(TableStateWrought, "elbow_90", 2, 2, 2, 2, 3),
	feetRow(TableStateWrought, "tee_run", 0.5, 1, 1, 2, 0),
	feetRow(TableStateWrought, "tee_branch", 4, 5, 7, 9, 0),
	feetRow(TableStateWrought, "gate_valve", 1, 2, 2, 2, 2),
	feetRow(TableStateCast, "elbow_45", 2, 3, 5, 8, 11),
	feetRow(TableStateCast, "elbow_90", 5, 8, 11, 14, 18),
	feetRow(TableStateCast, "tee_run", 1.5, 1, 2, 2, 2),
	feetRow(TableStateCast, "tee_branch", 7, 9, 12, 16, 20),
	feetRow(TableStateCast, "gate_valve", 1, 2, 2, 2, 2),
}
