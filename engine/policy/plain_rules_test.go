package policy_test

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"backpitch/engine/facts"
	"backpitch/engine/finding"
)

// plainRule is one rule of policies/rules, written in Go.
type plainRule struct {
	id    string
	judge func(f *facts.Facts, say func(subject string, a answer))
}

// each makes a rule about the entries of one group of facts; choose says whom
// it is about, nil for all.
func each[S any](id string, group func(f *facts.Facts) []S, name func(s *S) string, choose func(s *S) bool, judge func(f *facts.Facts, s *S) answer) plainRule {
	return plainRule{id, func(f *facts.Facts, say func(string, answer)) {
		list := group(f)
		for i := range list {
			if s := &list[i]; choose == nil || choose(s) {
				say(name(s), judge(f, s))
			}
		}
	}}
}

func plainRules(l *limits) []plainRule {
	return slices.Concat(plainDrains(l), plainJoints(l), plainTrapArms(l), plainVents(l), plainTerminals(l),
		plainBasins(l), plainPumps(l), plainDischarges(l), plainCleanouts(l), plainFixtures(l))
}

type (
	factsOf = facts.Facts
	drain   = facts.Drain
)

func lies(lie string) bool { return lie != "vertical" && lie != "sloped_45" }

func plainDrains(l *limits) []plainRule {
	zero := int64(0)
	about := func(id string, choose func(p *drain) bool, judge func(p *drain) answer) plainRule {
		return each(id, func(f *factsOf) []drain { return f.Drains }, func(p *drain) string { return p.ID }, choose,
			func(_ *factsOf, p *drain) answer { return judge(p) })
	}
	closet := at(l.number, "drain.min_size_with_water_closet")
	diameters := at(l.number, "stack.base_distance_diameters")
	minSlope := l.bySize["drain.min_slope"]
	under, above := l.words["material.underground"], l.words["material.above_ground"]
	few := l.bySize["stack.max_load_few"]
	return []plainRule{
		about("drain/back_pitched", func(p *drain) bool { return lies(p.Lie) },
			func(p *drain) answer { return moreThan(p.Slope, &zero) }),
		about("drain/too_flat", func(p *drain) bool { return lies(p.Lie) && (p.Slope == nil || *p.Slope > 0) },
			func(p *drain) answer { return atLeast(p.Slope, at(minSlope, p.Size)) }),
		about("drain/ends_dead", nil, func(p *drain) answer { return same(p.DeadEnd, false) }),
		about("drain/material_not_permitted", nil, func(p *drain) answer {
			switch {
			case is(p.Buried, true):
				return oneOf(p.Material, under)
			case is(p.Buried, false):
				return oneOf(p.Material, above)
			}
			return open
		}),
		about("drain/overloaded", nil, func(p *drain) answer {
			if p.Role == "stack" && p.Intervals == nil {
				// What a short stack takes, a tall one takes as well.
				if a := atMost(p.Load, at(few, p.Size)); a.outcome == finding.Pass {
					return a
				}
				return open
			}
			return atMost(p.Load, mostLoad(l, p)).needing(p.Size != "")
		}),
		about("drain/reduces_in_flow", func(p *drain) bool { return p.Fixtures > 0 || p.LargestInflow != nil },
			func(p *drain) answer {
				switch p.InflowKind {
				case "pipe", "fixture_outlet":
					return atLeast(p.DN, p.LargestInflow)
				case "trap", "closet_outlet":
					return notRequired
				}
				return open
			}),
		about("drain/too_small_for_water_closet", func(p *drain) bool { return p.WaterClosets > 0 },
			func(p *drain) answer { return atLeast(p.DN, closet) }),
		about("drain/joins_near_stack_base", func(p *drain) bool { return p.BelowStack },
			func(p *drain) answer {
				return atLeast(p.FromStackBase, times(diameters, p.JoinedDiameter)).needing(p.Lie != "")
			}),
	}
}

func mostLoad(l *limits, p *drain) *int64 {
	switch p.Role {
	case "building_drain", "building_sewer":
		return atOrBelow(l.steps["building_drain.max_load"][p.Size], p.Slope)
	case "branch":
		return at(l.bySize["branch.max_load"], p.Size)
	case "fixture_drain":
		return cmp.Or(at(l.bySize["branch.max_load"], p.Size), at(l.bySize["fixture_drain.max_load"], p.Size))
	case "stack":
		if *p.Intervals <= 3 {
			return at(l.bySize["stack.max_load_few"], p.Size)
		}
		return at(l.bySize["stack.max_load_many"], p.Size)
	}
	return nil
}

func plainJoints(l *limits) []plainRule {
	fittings := func(f *factsOf) []facts.Fitting { return f.Fittings }
	fittingID := func(f *facts.Fitting) string { return f.ID }
	ordinary, small, large := l.wordsOf["fitting.changes_allowed"], l.wordsOf["fitting.small_changes_allowed"], l.wordsOf["fitting.large_changes_allowed"]
	smallMost, largeLeast := at(l.number, "fitting.small_fixture_drain_max_size"), at(l.number, "fitting.large_min_size")
	notDouble := l.words["fitting.double_not_for"]
	roles := l.words["joint.transition_roles"]
	barred := map[bool][]string{true: l.words["joint.not_underground"], false: l.words["joint.not_above_ground"]}
	return []plainRule{
		each("drain/double_fitting_misused", fittings, fittingID,
			func(f *facts.Fitting) bool {
				return f.Double && f.Kind != "double_wye" && f.Kind != "double_combination_wye"
			},
			func(_ *factsOf, f *facts.Fitting) answer {
				if f.Kind == "" || notDouble == nil {
					return open
				}
				var found []string
				if f.PumpedInlets > 0 && slices.Contains(notDouble, "pumped") {
					found = append(found, "pumped")
				}
				if f.Closets > 1 && slices.Contains(notDouble, "water_closet") {
					found = append(found, "water_closet")
				}
				return none(found)
			}),
		each("drain/fitting_wrong_for_direction", fittings, fittingID,
			func(f *facts.Fitting) bool {
				return f.Kind != "coupling" && f.Kind != "end_cap" && f.Kind != "closet_flange"
			},
			func(_ *factsOf, f *facts.Fitting) answer {
				row, ok := ordinary[f.Kind]
				if !ok || f.Changes == nil || f.DN == nil {
					return open
				}
				var wrong []string
				for _, c := range *f.Changes {
					switch {
					case c == "vertical_to_vertical", slices.Contains(row, c), slices.Contains(wrong, c):
					case f.FixtureDrain && smallMost != nil && *f.DN <= *smallMost && slices.Contains(small[f.Kind], c):
					case largeLeast != nil && *f.DN >= *largeLeast && slices.Contains(large[f.Kind], c):
					default:
						wrong = append(wrong, c)
					}
				}
				slices.Sort(wrong)
				return none(wrong)
			}),
		each("drain/joint_not_permitted", func(f *factsOf) []facts.Joint { return f.Joints }, func(j *facts.Joint) string { return j.ID }, nil,
			func(_ *factsOf, j *facts.Joint) answer {
				families := familiesOf(j.Materials)
				switch {
				case j.Kind == "solvent_cement" && len(families) > 1:
					return none([]string{"solvent_cement between unlike materials"})
				case j.Kind == "transition_cement":
					if roles == nil {
						return open
					}
					if slices.Equal(families, []string{"abs", "pvc"}) && slices.Contains(roles, j.Role) {
						return none(nil).needing(j.Buried != nil)
					}
					return none([]string{"transition_cement"})
				case j.Buried == nil || barred[*j.Buried] == nil:
					return open
				case slices.Contains(barred[*j.Buried], j.Kind):
					return none([]string{j.Kind})
				}
				return none(nil)
			}),
	}
}

func familiesOf(materials []string) []string {
	var out []string
	for _, m := range materials {
		family, _, _ := strings.Cut(m, "_")
		if !slices.Contains(out, family) {
			out = append(out, family)
		}
	}
	slices.Sort(out)
	return out
}

func plainTrapArms(l *limits) []plainRule {
	type arm = facts.TrapArm
	about := func(id string, choose func(a *arm) bool, judge func(a *arm) answer) plainRule {
		return each(id, func(f *factsOf) []arm { return f.TrapArms }, func(a *arm) string { return a.ID }, choose,
			func(_ *factsOf, a *arm) answer { return judge(a) })
	}
	exempt := at(l.flag, "trap_arm.self_siphonic_exempt")
	mostFall, leastLength := at(l.number, "trap_arm.max_fall_diameters"), at(l.number, "trap_arm.min_length_diameters")
	minSlope, mostLength := l.bySize["trap_arm.min_slope"], l.bySize["trap_arm.max_length"]
	unlessSiphonic := func(a *arm, judge func() answer) answer {
		switch {
		case !a.SelfSiphonic, is(exempt, false):
			return judge()
		case is(exempt, true):
			return notRequired
		}
		return open
	}
	return []plainRule{
		about("trap_arm/falls_too_far", nil, func(a *arm) answer {
			if a.Method == "combination" && a.VerticalDrop {
				return notRequired
			}
			return unlessSiphonic(a, func() answer { return atMost(a.Fall, times(mostFall, a.Diameter)) })
		}),
		about("trap_arm/too_flat", nil, func(a *arm) answer {
			if !a.LevelPart {
				return notRequired
			}
			return atLeast(a.Slope, at(minSlope, a.Size))
		}),
		about("trap_arm/too_long", nil, func(a *arm) answer {
			return unlessSiphonic(a, func() answer { return atMost(a.Length, at(mostLength, a.Size)) })
		}),
		about("trap_arm/too_short", func(a *arm) bool { return !a.SelfSiphonic },
			func(a *arm) answer { return atLeast(a.Length, times(leastLength, a.Diameter)) }),
	}
}

func plainVents(l *limits) []plainRule {
	type vent = facts.Vent
	zero := int64(0)
	about := func(id string, choose func(v *vent) bool, judge func(v *vent) answer) plainRule {
		return each(id, func(f *factsOf) []vent { return f.Vents }, func(v *vent) string { return v.ID }, choose,
			func(_ *factsOf, v *vent) answer { return judge(v) })
	}
	serves := func(v *vent) bool { return v.ServesDrains }
	rise, upsize := at(l.number, "vent.dry_rise_above_rim"), at(l.number, "vent.upsize_length")
	least, next := l.bySize["vent.min_size"], l.bySize["vent.next_size"]
	ends := []string{"open_air", "air_admittance_valve"}
	wet := l.bySize["wet_vent.max_load"]
	return []plainRule{
		about("vent/dry_below_rim", serves, func(v *vent) answer {
			a := atLeast(v.HeightAtTop, rise)
			if a.outcome == finding.Fail && v.EndsAt == "air_admittance_valve" {
				return personDecides
			}
			return a
		}),
		about("vent/ends_nowhere", nil, func(v *vent) answer { return oneOf(v.EndsAt, ends) }),
		about("vent/holds_water", func(v *vent) bool { return lies(v.Lie) },
			func(v *vent) answer { return atLeast(v.Slope, &zero) }),
		about("vent/horizontal_below_rim", func(v *vent) bool { return v.ServesDrains && lies(v.Lie) },
			func(v *vent) answer { return atLeast(v.LowPoint, rise) }),
		about("vent/shrinks_towards_outlet", func(v *vent) bool { return v.HasBelow },
			func(v *vent) answer { return atLeast(v.DN, v.LargestBelow) }),
		about("vent/too_small", serves, func(v *vent) answer { return atLeast(v.DN, at(least, v.DrainSize)) }),
		about("vent/too_small_for_length", serves, func(v *vent) answer {
			switch atMost(v.Length, upsize).outcome {
			case finding.Pass:
				return notRequired
			case finding.Fail:
				if size := at(least, v.DrainSize); size != nil {
					return atLeast(v.DN, at(next, sizeKey(*size)))
				}
			}
			return open
		}),
		each("vent/wet_vent_overloaded", func(f *factsOf) []facts.WetVent { return f.WetVents }, func(w *facts.WetVent) string { return w.ID },
			func(w *facts.WetVent) bool { return w.Kind == "wet" },
			func(_ *factsOf, w *facts.WetVent) answer { return atMost(w.Load, at(wet, w.Size)) }),
	}
}

func plainTerminals(l *limits) []plainRule {
	type terminal = facts.Terminal
	about := func(id string, choose func(t *terminal) bool, judge func(t *terminal) answer) plainRule {
		return each(id, func(f *factsOf) []terminal { return f.Terminals }, func(t *terminal) string { return t.ID }, choose,
			func(_ *factsOf, t *terminal) answer { return judge(t) })
	}
	distance, height := at(l.number, "terminal.opening_distance"), at(l.number, "terminal.opening_height")
	roof, used := at(l.number, "terminal.min_above_roof"), at(l.number, "terminal.min_above_used_roof")
	return []plainRule{
		about("vent/terminal_near_opening", nil, func(t *terminal) answer {
			a := atLeast(t.FromOpening, distance)
			if a.outcome == finding.Fail {
				return atLeast(t.AboveOpening, height)
			}
			return a
		}),
		about("vent/terminal_too_low", func(t *terminal) bool { return t.Kind == "roof_vent" },
			func(t *terminal) answer {
				switch {
				case is(t.RoofUsed, false):
					return atLeast(t.AboveRoof, roof)
				case is(t.RoofUsed, true):
					return atLeast(t.AboveRoof, used)
				}
				return open
			}),
	}
}

func plainBasins(l *limits) []plainRule {
	type basin = facts.Basin
	zero := int64(0)
	about := func(id string, choose func(b *basin) bool, judge func(f *factsOf, b *basin) answer) plainRule {
		return each(id, func(f *factsOf) []basin { return f.Basins }, func(b *basin) string { return b.ID }, choose, judge)
	}
	factor, diameter, depth := at(l.number, "basin.min_flotation_factor"), at(l.number, "basin.min_diameter"), at(l.number, "basin.min_depth")
	below := at(l.number, "basin.level_below_inlet")
	ventLength := l.steps["basin.vent_length"]
	order := []string{"stop", "start", "top start", "alarm"}
	return []plainRule{
		about("basin/alarm_above_inlet", nil, func(_ *factsOf, b *basin) answer { return atMost(b.AlarmLevel, b.InletHeight) }),
		about("basin/floats", nil, func(_ *factsOf, b *basin) answer { return atLeast(b.Flotation, factor) }),
		about("basin/inlet_mismatch", nil, func(_ *factsOf, b *basin) answer { return atLeast(b.DrainHeight, &zero) }),
		about("basin/inlet_undersized", nil, func(_ *factsOf, b *basin) answer { return atLeast(b.InletDN, b.LargestDrain) }),
		about("basin/level_floods_inlet", nil, func(_ *factsOf, b *basin) answer { return atLeast(b.BelowInlet, below) }),
		about("basin/levels_out_of_order", nil, func(_ *factsOf, b *basin) answer {
			levels := []*int64{b.StopLevel, b.StartLevel, b.HighestStart, b.AlarmLevel}
			if slices.Contains(levels, nil) {
				return open
			}
			by := []int{0, 1, 2, 3}
			slices.SortFunc(by, func(i, j int) int {
				return cmp.Or(cmp.Compare(*levels[i], *levels[j]), cmp.Compare(order[i], order[j]))
			})
			return inOrder([]string{order[by[0]], order[by[1]], order[by[2]], order[by[3]]}, order)
		}),
		about("basin/not_gas_tight", nil, func(_ *factsOf, b *basin) answer { return isStated(b.GasTight, true) }),
		about("basin/not_needed", nil, func(f *factsOf, b *basin) answer {
			a := atMost(b.CouldFall, &zero)
			switch {
			case a.outcome != finding.Fail, is(f.Building.Existing, false):
				return a
			case is(f.Building.Existing, true):
				return notRequired
			}
			return open
		}),
		about("basin/not_vented", nil, func(_ *factsOf, b *basin) answer {
			switch {
			case !b.HasVent:
				return same(false, true)
			case b.VentEndsAt == "":
				return open
			case b.EngineeredVent:
				return oneOf(b.VentEndsAt, []string{"open_air", "air_admittance_valve"})
			}
			return same(b.VentEndsAt, "open_air")
		}),
		about("basin/too_shallow", nil, func(_ *factsOf, b *basin) answer { return atLeast(b.Depth, depth) }),
		about("basin/too_small", nil, func(_ *factsOf, b *basin) answer { return atLeast(b.Diameter, diameter) }),
		about("basin/vent_too_small", func(b *basin) bool { return b.HasVent }, func(_ *factsOf, b *basin) answer {
			steps := ventLength[b.VentSize]
			limit := atOrAbove(steps, b.PumpRate)
			if limit == nil {
				if steps != nil && b.PumpRate != nil {
					return personDecides
				}
				return open
			}
			a := atMost(b.VentLength, limit)
			switch {
			case a.outcome != finding.Pass,
				atMost(b.VentLength, atOrAbove(steps, b.PumpRateHigh)).outcome == finding.Pass:
				return a
			case b.PumpRateHigh != nil:
				return personDecides
			}
			return open
		}),
	}
}

func plainPumps(l *limits) []plainRule {
	type pump = facts.Pump
	zero := int64(0)
	about := func(id string, choose func(p *pump) bool, judge func(p *pump) answer) plainRule {
		return each(id, func(f *factsOf) []pump { return f.Pumps }, func(p *pump) string { return p.ID }, choose,
			func(_ *factsOf, p *pump) answer { return judge(p) })
	}
	alarms, minRate := l.words["pump.alarm_kinds"], l.bySize["pump.min_rate"]
	withCloset, other := at(l.number, "pump.solids_with_closet"), at(l.number, "pump.solids_other")
	starts, run, hole := at(l.number, "pump.max_starts_per_hour"), at(l.number, "pump.min_run_time"), at(l.number, "pump.relief_hole_size")
	byKind := func(p *pump, judge func() answer) answer {
		switch p.Kind {
		case "solids_handling", "effluent":
			return judge()
		case "grinder", "macerating":
			return notRequired
		}
		return open
	}
	settled := func(expected, may *bool) answer {
		switch {
		case is(expected, true):
			return same(true, false)
		case is(expected, false) && is(may, false):
			return same(false, false)
		case is(expected, false) && is(may, true):
			return personDecides
		}
		return open
	}
	return []plainRule{
		about("pump/alarm_missing", nil, func(p *pump) answer { return oneOf(p.AlarmKind, alarms) }),
		about("pump/beyond_curve", nil, func(p *pump) answer { return settled(p.BeyondCurve, p.MayExceed) }),
		about("pump/cannot_lift", nil, func(p *pump) answer { return settled(p.CannotLift, p.MayNotLift) }),
		about("pump/cord_too_short", nil, func(p *pump) answer { return atLeast(p.Cord, p.Receptacle) }),
		about("pump/outlet_reduced", nil, func(p *pump) answer { return atLeast(p.DischargeDN, p.OutletDN) }),
		about("pump/rate_below_inflow", nil, func(p *pump) answer { return atLeastRange(p.RateLow, p.Rate, p.RateHigh, p.Inflow) }),
		about("pump/rate_too_low", nil, func(p *pump) answer {
			return byKind(p, func() answer {
				limit := at(minRate, p.DischargeSize)
				if limit == nil {
					return open
				}
				return atLeastRange(p.RateLow, p.Rate, p.RateHigh, limit)
			})
		}),
		about("pump/relief_hole_missing", func(p *pump) bool { return p.HasCheck }, func(p *pump) answer {
			if p.HasRelief {
				return atLeast(p.ReliefHole, hole)
			}
			return atLeast(&zero, hole)
		}),
		about("pump/runs_too_short", nil, func(p *pump) answer { return atLeastRange(p.RunTimeLow, p.RunTime, p.RunTimeHigh, run) }),
		about("pump/solids_too_small", nil, func(p *pump) answer {
			return byKind(p, func() answer {
				if p.WaterClosets != 0 {
					return atLeast(p.Solids, withCloset)
				}
				return atLeast(p.Solids, other)
			})
		}),
		about("pump/starts_too_often", nil, func(p *pump) answer {
			return atMostRange(p.StartsLow, p.Starts, p.StartsHigh, cmp.Or(p.MaxStarts, starts))
		}),
	}
}

func plainDischarges(l *limits) []plainRule {
	type discharge = facts.Discharge
	about := func(id string, choose func(d *discharge) bool, judge func(d *discharge) answer) plainRule {
		return each(id, func(f *factsOf) []discharge { return f.Discharges }, func(d *discharge) string { return d.ID }, choose,
			func(_ *factsOf, d *discharge) answer { return judge(d) })
	}
	level, upright := l.words["discharge.fittings"], l.words["discharge.fittings_vertical"]
	entries, materials, places, styles := l.words["discharge.entries"], l.words["discharge.materials"], l.words["discharge.valve_places"], l.words["discharge.shutoff_styles"]
	slowest, fastest := at(l.number, "discharge.min_velocity"), at(l.number, "discharge.max_velocity")
	valves := func(f *factsOf) []facts.Valve { return f.Valves }
	valveID := func(v *facts.Valve) string { return v.ID }
	return []plainRule{
		about("discharge/connects_wrongly", nil, func(d *discharge) answer {
			switch d.ReceiverLie {
			case "horizontal":
				return oneOf(d.Fitting, level)
			case "vertical":
				return oneOf(d.Fitting, upright)
			}
			return open
		}),
		about("discharge/enters_wrong_side", func(d *discharge) bool { return d.ReceiverLie != "vertical" }, func(d *discharge) answer {
			if d.ReceiverLie == "horizontal" {
				return oneOf(d.Entry, entries)
			}
			return open
		}),
		about("discharge/material_not_permitted", nil, func(d *discharge) answer {
			if d.Materials == nil || materials == nil {
				return open
			}
			var found []string
			for _, m := range d.Materials {
				if !slices.Contains(materials, m) {
					found = append(found, m)
				}
			}
			return none(found)
		}),
		about("discharge/velocity_out_of_range", nil, func(d *discharge) answer {
			return overRange(d.VelocityLow, d.Velocity, d.VelocityHigh, func(v *int64) answer { return between(v, slowest, fastest) })
		}),
		each("discharge/shutoff_not_full_open", valves, valveID,
			func(v *facts.Valve) bool { return v.Kind == "full_open_valve" || v.Kind == "shutoff_valve" },
			func(_ *factsOf, v *facts.Valve) answer { return oneOf(v.Style, styles) }),
		each("discharge/valve_not_accessible", valves, valveID, nil, func(_ *factsOf, v *facts.Valve) answer {
			var wrong []string
			if is(v.Accessible, false) {
				wrong = append(wrong, "cannot be reached")
			}
			if v.Place != "" && !slices.Contains(places, v.Place) {
				wrong = append(wrong, "does not stand in a permitted place")
			}
			if len(wrong) > 0 || is(v.Accessible, true) && v.Place != "" {
				return none(wrong)
			}
			return open
		}),
	}
}

func plainCleanouts(l *limits) []plainRule {
	type cleanout = facts.Cleanout
	about := func(id string, judge func(c *cleanout) answer) plainRule {
		return each(id, func(f *factsOf) []cleanout { return f.Cleanouts }, func(c *cleanout) string { return c.ID }, nil,
			func(_ *factsOf, c *cleanout) answer { return judge(c) })
	}
	asked := map[string]*bool{}
	for _, reason := range []string{"upper_end", "stack_base", "building_exit"} {
		asked[reason] = at(l.flag, "cleanout."+reason)
	}
	short, never := l.number["cleanout.short_run"], l.words["cleanout.short_run_never_for"]
	size, clearance := l.bySize["cleanout.min_size"], l.bySize["cleanout.clearance"]
	bySize, apart := l.bySize["cleanout.max_spacing_by_size"], at(l.number, "cleanout.max_spacing")
	slight, reach := at(l.number, "cleanout.turn_over"), at(l.number, "cleanout.turn_covers")
	needs := func(f *factsOf) []facts.CleanoutNeed { return f.CleanoutNeeds }
	needID := func(n *facts.CleanoutNeed) string { return n.ID }
	return []plainRule{
		each("cleanout/missing", needs, needID, func(n *facts.CleanoutNeed) bool { return n.Reason != "direction_change" },
			func(_ *factsOf, n *facts.CleanoutNeed) answer {
				length := short
				if slices.ContainsFunc(n.Kinds, func(k string) bool { return slices.Contains(never, k) }) {
					length = 0
				}
				upper, wanted := n.Reason == "upper_end", asked[n.Reason]
				reaches := atMost(n.Length, &length).outcome
				switch {
				case n.HasOne:
					return same(true, true)
				case is(wanted, true) && (!upper || !n.Closet && reaches == finding.Fail):
					return same(false, true)
				case is(wanted, false), upper && n.Closet, upper && reaches == finding.Pass:
					return notRequired
				}
				return open
			}),
		each("cleanout/missing_at_turn", needs, needID, func(n *facts.CleanoutNeed) bool { return n.Reason == "direction_change" },
			func(_ *factsOf, n *facts.CleanoutNeed) answer {
				turn, far := atMost(n.Turn, slight).outcome, atMost(n.Distance, reach).outcome
				switch {
				case n.HasOne:
					return same(true, true)
				case turn == finding.Pass, n.Any && far == finding.Pass:
					return notRequired
				case turn == finding.Fail && (!n.Any || far == finding.Fail):
					return same(false, true)
				}
				return open
			}),
		about("cleanout/no_access", func(c *cleanout) answer { return isStated(c.Access, true) }),
		about("cleanout/no_clearance", func(c *cleanout) answer { return atLeast(c.Clearance, at(clearance, c.PipeSize)) }),
		about("cleanout/too_small", func(c *cleanout) answer { return atLeast(c.DN, at(size, c.PipeSize)) }),
		each("cleanout/too_far_apart", func(f *factsOf) []facts.CleanoutRun { return f.CleanoutRuns }, func(r *facts.CleanoutRun) string { return r.ID }, nil,
			func(_ *factsOf, r *facts.CleanoutRun) answer {
				if bySize == nil {
					return atMost(r.Length, apart)
				}
				return atMost(r.Length, at(bySize, r.Size))
			}),
	}
}

func plainFixtures(l *limits) []plainRule {
	type fixture = facts.Fixture
	one := int64(1)
	about := func(id string, choose func(x *fixture) bool, judge func(f *factsOf, x *fixture) answer) plainRule {
		return each(id, func(f *factsOf) []fixture { return f.Fixtures }, func(x *fixture) string { return x.ID }, choose, judge)
	}
	trapped := func(x *fixture) bool { return !x.Indirect && x.TrapType != "none" && x.TrapType != "integral" }
	shallow, deep := at(l.number, "trap.seal_min"), at(l.number, "trap.seal_max")
	least := l.bySize["fixture.trap_min"]
	accepted, known := l.words["vent.accepted_methods"], l.words["vent.accepted_methods"] != nil
	barred := l.words["trap.types_not_permitted"]
	return []plainRule{
		about("fixture/could_drain_by_gravity", func(x *fixture) bool { return x.DrainsTo == "basin" }, func(f *factsOf, x *fixture) answer {
			a := atMost(x.FallAvailable, x.FallNeeded)
			if a.outcome == finding.Fail && is(f.Building.Existing, true) {
				return personDecides
			}
			return a
		}),
		about("fixture/drain_smaller_than_trap", trapped, func(_ *factsOf, x *fixture) answer { return atLeast(x.DrainDN, x.TrapDN) }),
		about("fixture/trap_missing", func(x *fixture) bool { return !x.Indirect }, func(_ *factsOf, x *fixture) answer {
			switch {
			case x.TrapsInSeries > 1, x.TrapType != "" && x.TrapType != "none":
				return atMost(&x.TrapsInSeries, &one).needing(x.TrapType != "")
			case x.TrapType == "none":
				return atLeast(&x.TrapsInSeries, &one)
			}
			return open
		}),
		about("fixture/trap_seal_out_of_range", trapped, func(_ *factsOf, x *fixture) answer { return between(x.TrapSeal, shallow, deep) }),
		about("fixture/trap_too_small", trapped, func(_ *factsOf, x *fixture) answer {
			limit := at(least, x.Class)
			if limit == nil && x.TrapDN != nil && *x.TrapDN > 0 && (x.Class != "" || x.Kind == "other") {
				return personDecides
			}
			return atLeast(x.TrapDN, limit)
		}),
		about("fixture/trap_type_not_permitted", func(x *fixture) bool { return !x.Indirect && x.TrapType != "none" }, func(_ *factsOf, x *fixture) answer {
			switch {
			case x.TrapType == "" || barred == nil:
				return open
			case slices.Contains(barred, x.TrapType):
				return none([]string{x.TrapType})
			}
			return none(nil)
		}),
		about("vent/missing", func(x *fixture) bool { return !x.Indirect && x.TrapType != "none" }, func(_ *factsOf, x *fixture) answer {
			stated := x.TrapType != "" && x.VentEndsAt != ""
			switch {
			case x.VentMethod == "none":
				return oneOf("none", append([]string{}, accepted...)).needing(stated)
			case x.VentEndsAt == "nothing":
				return oneOf("a vent that leads nowhere", append([]string{}, accepted...)).needing(stated)
			case x.VentEndsAt == "" || !known:
				return open
			}
			return oneOf(x.VentMethod, accepted).needing(stated)
		}),
	}
}

func sizeKey(dn int64) string { return "DN " + strconv.FormatInt(dn, 10) }
