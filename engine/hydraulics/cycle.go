package hydraulics

import "math"

// Duty is a pump that empties a basin from its start to its stop level.
type Duty struct {
	Volume    float64 // m3, between stop and start level
	DrainBack float64 // m3, returned from the discharge when the pump stops; 0 with a check valve at the pump
	PumpRate  float64 // m3/s
}

// CycleStatus is what the pump does at an inflow.
type CycleStatus string

// The four ways.
const (
	Cycling        CycleStatus = "cycling"
	Idle           CycleStatus = "idle"             // nothing flows in: it never starts
	NeverStops     CycleStatus = "never_stops"      // inflow reaches the pump rate: the level rises
	RestartsAtOnce CycleStatus = "restarts_at_once" // drain-back refills to the start level
)

// Cycle is one fill and one run of the pump. Times the status leaves without
// meaning are zero: Fill when nothing flows in or drain-back fills the basin,
// Run, Total and StartsPerHour unless the pump is cycling.
type Cycle struct {
	Status        CycleStatus
	Inflow        float64 // m3/s
	Fill          float64 // s
	Run           float64 // s
	Total         float64 // s
	StartsPerHour float64
}

func (d Duty) check(c *checker) *checker {
	return c.positive("volume", d.Volume).notNegative("drain-back", d.DrainBack).positive("pump rate", d.PumpRate)
}

// At is the pump cycle at a steady inflow.
//
//	fill = (V - Vdb) / Qi, run = V / (Qp - Qi), t = fill + run
//
// Source: MIL-HDBK-1005/9A pages 31-32 (ufgscriteria.tpub.com/4_832_01, checked)
// without drain-back; the drain-back term is own derivation.
//
// Symbols: V volume between levels, Vdb drain-back, m3; Qi inflow, Qp pump
// rate, m3/s; times s.
//
// Valid: V, Qp > 0, Vdb, Qi >= 0; see CycleStatus for the rest.
//
// Worked: Duty.At(0.190852, 0, 0.0035, 0.001).Total = 267.193
//
// Worked: Duty.At(0.190852, 0.0794226, 0.0035, 0.001).Fill = 111.43
func (d Duty) At(inflow float64) (Cycle, error) {
	const name = "pump cycle"
	if err := d.check(check(name)).notNegative("inflow", inflow).done(); err != nil {
		return Cycle{}, err
	}
	cycle := Cycle{Status: Cycling, Inflow: inflow}
	switch {
	case d.DrainBack >= d.Volume:
		cycle.Status = RestartsAtOnce
		return cycle, nil
	case inflow == 0:
		cycle.Status = Idle
		return cycle, nil
	}
	cycle.Fill = (d.Volume - d.DrainBack) / inflow
	if inflow >= d.PumpRate {
		cycle.Status = NeverStops
	} else {
		cycle.Run = d.Volume / (d.PumpRate - inflow)
		cycle.Total = cycle.Fill + cycle.Run
		cycle.StartsPerHour = hour / cycle.Total
	}
	err := check(name).finite("fill time", cycle.Fill).finite("run time", cycle.Run).finite("starts per hour", cycle.StartsPerHour).done()
	if err != nil {
		return Cycle{}, err
	}
	return cycle, nil
}

// Worst is the cycle at the inflow that starts the pump most often.
//
//	Qi = Qp a / (a + b), tmin = (a + b)^2 / Qp, a = sqrt(V - Vdb), b = sqrt(V)
//
// Source: MIL-HDBK-1005/9A pages 31-32 and EI 11C201 wet wells (checked) for
// no drain-back: Qi = Qp/2, tmin = 4 V/Qp. With drain-back own derivation,
// the least of At over Qi.
//
// Symbols: V volume between levels, Vdb drain-back, m3; Qi inflow, Qp pump
// rate, m3/s; t, s.
//
// Valid: as At.
//
// Worked: Duty.Worst(0.19085175, 0, 0.0035).Total = 218.1163
//
// Worked: Duty.Worst(0.19085175, 0, 0.0035).StartsPerHour = 16.50496
//
// Worked: Duty.Worst(0.19085175, 0, 0.0035).Inflow = 0.00175
func (d Duty) Worst() (Cycle, error) {
	if err := d.check(check("pump cycle")).done(); err != nil {
		return Cycle{}, err
	}
	a, b := math.Sqrt(math.Max(0, d.Volume-d.DrainBack)), math.Sqrt(d.Volume)
	return d.At(d.PumpRate * (a / (a + b)))
}

// VolumeForStarts is the least active volume that keeps a pump to a number of
// starts per hour at the worst inflow, without drain-back.
//
//	V = t Qp / 4, t = 3600 / starts
//
// Source: MIL-HDBK-1005/9A pages 31-32 (checked).
//
// Symbols: Qp pump rate, m3/s; starts, 1/h; V, m3.
//
// Valid: starts > 0; one pump, no drain-back.
//
// Worked: VolumeForStarts(0.0035, 10) = 0.3150
func VolumeForStarts(pumpRate, startsPerHour float64) (float64, error) {
	const name = "volume for starts"
	if err := check(name).positive("pump rate", pumpRate).positive("starts per hour", startsPerHour).done(); err != nil {
		return 0, err
	}
	return finiteResult(name, hour/startsPerHour*pumpRate/4)
}

// StartsEach is how often each of n pumps starts when they take turns.
//
//	starts each = starts / n
//
// Source: EI 11C201 wet wells, Table 7-1
// (buildingcriteria1.tpub.com/ufc_3_240_04a, checked) for two pumps.
//
// Symbols: starts of the station, 1/h; n pumps taking turns; result 1/h.
//
// Valid: n >= 1, turns taken at every start.
//
// Worked: StartsEach(25.531105, 2) = 12.765553
func StartsEach(startsPerHour float64, pumps int) (float64, error) {
	err := check("alternating pumps").notNegative("starts per hour", startsPerHour).
		need(pumps >= 1, "number of pumps", float64(pumps), "1 or more").done()
	if err != nil {
		return 0, err
	}
	return startsPerHour / float64(pumps), nil
}
