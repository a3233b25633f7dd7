package facts

import (
	"slices"

	"backpitch/engine/calcs"
	"backpitch/engine/design"
	"backpitch/engine/hydraulics"
)

// basinVolumes: drawdown between start and stop, reserve between alarm and
// inlet, storage between the highest start and the inlet, and how long drawdown
// and reserve take to gather at the mean inflow; how long the basin takes what
// comes when the power fails just before the pump would have started.
func (v *derivation) basinVolumes(b *design.Basin, item int, o *Basin) {
	if volume, ok := drawdown(b); ok {
		o.Drawdown = toFixed(volume, volumeScale)
		v.recordVolume(b, "drawdown", metres(b.Levels.Stop), metres(b.Levels.Start), volume)
		o.HoldTime = v.timeToGather(b, "hold_time", volume)
	}
	if b.Levels == nil {
		return
	}
	inlet := v.inletHeight(item)
	if volume, ok := between(b, metres(b.Levels.Alarm), inlet); ok {
		o.Reserve = toFixed(volume, volumeScale)
		v.recordVolume(b, "reserve", metres(b.Levels.Alarm), inlet, volume)
		o.ReserveTime = v.timeToGather(b, "reserve_time", volume)
	}
	if volume, ok := between(b, highestStart(b), inlet); ok {
		o.StorageAbove = toFixed(volume, volumeScale)
		v.recordVolume(b, "storage_above_start", highestStart(b), inlet, volume)
	}
	if volume, ok := between(b, metres(b.Levels.Start), inlet); ok {
		if b.Levels.SecondStart.Value.IsZero() {
			o.OutageTime = v.timeToGather(b, "outage_time", volume)
		} else {
			v.recordVolume(b, "", metres(b.Levels.Start), inlet, volume)
			o.OutageTime = v.timeToGather(b, "outage_time", volume)
		}
	}
	v.recordLevels(b, inlet)
}

// timeToGather is how long the mean inflow takes to bring a volume, nil where
// it is not stated.
func (v *derivation) timeToGather(b *design.Basin, fact string, volume float64) *int64 {
	inflow := v.d.Building.Inflow.SI()
	if inflow <= 0 {
		return nil
	}
	t, err := hydraulics.Retention(volume, inflow)
	if err != nil {
		return nil
	}
	v.rec.Step(calcs.Raw{Formula: "retention", Subject: b.ID, Fact: fact, Values: []float64{volume, inflow}, Result: t})
	return toFixed(t, durationScale)
}

// recordVolume writes down a volume between two levels.
func (v *derivation) recordVolume(b *design.Basin, fact string, low, high *rat, volume float64) {
	if v.rec == nil || low == nil || high == nil {
		return
	}
	l, _ := low.Float64()
	h, _ := high.Float64()
	step := calcs.Raw{Formula: "volume_round", Subject: b.ID, Fact: fact, Values: []float64{b.Diameter.SI(), h, l}, Result: volume}
	if ves, _ := vessel(b); ves != (hydraulics.Round{Diameter: b.Diameter.SI()}) {
		step.Formula, step.Values = "volume_rectangular", []float64{b.PlanLength.SI(), b.PlanWidth.SI(), h, l}
	}
	v.rec.Step(step)
}

// recordLevels lists the levels of a basin with the volume below each.
func (v *derivation) recordLevels(b *design.Basin, inlet *rat) {
	if v.rec == nil {
		return
	}
	ves, ok := vessel(b)
	if !ok {
		return
	}
	out := calcs.Basin{ID: b.ID}
	for _, l := range []struct {
		name string
		at   *rat
	}{
		{"stop", metres(b.Levels.Stop)}, {"start", metres(b.Levels.Start)}, {"second start", metres(b.Levels.SecondStart)},
		{"alarm", metres(b.Levels.Alarm)}, {"inlet invert", inlet}, {"underside of cover", metres(b.Depth)},
	} {
		if l.at == nil {
			continue
		}
		height, _ := l.at.Float64()
		volume, err := hydraulics.VolumeBetween(ves, 0, height)
		if err != nil {
			continue
		}
		out.Levels = append(out.Levels, calcs.Level{Name: l.name, Height: height, Volume: volume})
	}
	slices.SortStableFunc(out.Levels, func(a, b calcs.Level) int {
		switch {
		case a.Height < b.Height:
			return -1
		case a.Height > b.Height:
			return 1
		}
		return 0
	})
	v.rec.Basins = append(v.rec.Basins, out)
}
