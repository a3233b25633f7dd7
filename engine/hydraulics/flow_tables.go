package hydraulics

// Peak demand curves in gallons a minute, as data. The rows from 20 to 100
// units are from memory, the others were read in NSPC Table B.5.4 (National
// Standard Plumbing Code).

type demandRow struct {
	load, gpm float64
	basis     Basis
}

func demandTable(name string, rows []demandRow) FlowTable {
	converted := make([]FlowRow, len(rows))
	for i, r := range rows {
		converted[i] = FlowRow{r.load, r.gpm * gallonPerMinute, r.basis}
	}
	t, err := NewFlowTable(name, converted)
	if err != nil {
		panic("hydraulics: " + err.Error())
	}
	return t
}

// DemandTank is the demand curve for systems of flush tanks.
func DemandTank() FlowTable {
	return demandTable("NSPC B.5.4 flush tanks", []demandRow{
		{3, 3, Checked}, {4, 4, Checked}, {5, 4.5, Checked}, {6, 5, Checked}, {7, 6, Checked}, {8, 7, Checked},
		{9, 7.5, Checked}, {10, 8, Checked}, {11, 8.5, Checked}, {12, 9, Checked}, {13, 10, Checked}, {14, 10.5, Checked},
		{20, 14, FromMemory}, {30, 20, FromMemory}, {50, 29, FromMemory}, {80, 39, FromMemory}, {100, 44, FromMemory},
		{120, 49, Checked}, {140, 53, Checked}, {160, 57, Checked}, {180, 61, Checked}, {200, 65, Checked},
		{225, 70, Checked}, {250, 75, Checked}, {300, 85, Checked}, {400, 105, Checked}, {500, 125, Checked},
		{750, 170, Checked}, {1000, 210, Checked},
	})
}

// DemandValve is the demand curve for systems of flush valves.
func DemandValve() FlowTable {
	return demandTable("NSPC B.5.4 flush valves", []demandRow{
		{5, 22, Checked}, {6, 23, Checked}, {7, 24, Checked}, {8, 25, Checked}, {9, 26, Checked}, {10, 27, Checked},
		{11, 28, Checked}, {12, 29, Checked}, {13, 29.5, Checked}, {14, 30, Checked},
		{20, 35, FromMemory}, {30, 41, FromMemory}, {50, 51, FromMemory}, {80, 62, FromMemory}, {100, 68, FromMemory},
		{120, 74, Checked}, {140, 78, Checked}, {160, 83, Checked}, {180, 87, Checked}, {200, 91, Checked},
		{225, 95, Checked}, {250, 100, Checked}, {300, 110, Checked}, {400, 125, Checked}, {500, 140, Checked},
		{750, 175, Checked}, {1000, 210, Checked},
	})
}

// DemandTankModelCode is the demand curve for flush tanks of the ICC plumbing
// code, Table E103.3(3), all from memory. At few units it is far above
// DemandTank (14.6 against 8 gpm at 10 units).
func DemandTankModelCode() FlowTable {
	return demandTable("IPC E103.3(3) flush tanks", []demandRow{
		{10, 14.6, FromMemory}, {20, 19.6, FromMemory}, {50, 29.1, FromMemory}, {100, 43.5, FromMemory},
		{200, 65, FromMemory}, {500, 124, FromMemory}, {1000, 208, FromMemory},
	})
}
