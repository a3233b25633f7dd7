package exercise

import (
	"backpitch/engine/plant"
	"backpitch/engine/quantity"
)

type edit = func(e part) []plant.Operation

// Edits that recipes share.
func set(key string, value any) edit {
	return func(e part) []plant.Operation { return e.set(key, value) }
}
func drop(key string) edit { return func(e part) []plant.Operation { return e.drop(key) } }
func smaller(key string, steps int) edit {
	return func(e part) []plant.Operation { return e.smaller(key, steps) }
}
func change(key string, kind quantity.Kind, to func(int64) int64) edit {
	return func(e part) []plant.Operation { return e.change(key, kind, to) }
}
func every(part) bool    { return true }
func drains(e part) bool { return e.is("service", "drain") }
func level(e part) bool  { return e.is("service", "drain") && e.is("lie", "horizontal") }
func vents(e part) bool  { return e.is("service", "vent") }
func pumped(e part) bool { return e.is("service", "pumped") }

// kindOf picks parts of one of the kinds.
func kindOf(kinds ...string) func(part) bool {
	return func(e part) bool { return e.is("kind", kinds...) }
}

// recipes break one rule each in whatever design has an element for it.
var recipes = append(append(pipework, drained...), lifted...)

var pipework = []recipe{
	{"drain/too_flat", "the fall is halved", "drain trap_arm/too_flat", "pipes", level, change("slope", quantity.Slope, times(1, 2))},
	{"drain/too_steep", "the fall is five times as steep", "", "pipes", level, change("slope", quantity.Slope, times(5, 1))},
	{"drain/back_pitched", "it falls the wrong way", "drain/too_flat trap_arm/too_flat", "pipes", level, change("slope", quantity.Slope, times(-1, 1))},
	{"trap_arm/falls_too_far", "the trap arm is four times as steep", "drain/too_steep", "pipes", level, change("slope", quantity.Slope, times(4, 1))},
	{"trap_arm/too_long", "the trap arm is three times as long", "trap_arm fixture/outlet_pipe_too_long", "pipes", level, change("length", quantity.Length, times(3, 1))},
	{"trap_arm/too_short", "the trap arm is an inch long", "trap_arm", "pipes", level, change("length", quantity.Length, inches(1))},
	{"drain/cover_too_shallow", "it lies an inch below the ground", "", "pipes", drains, change("cover", quantity.Length, inches(1))},
	{"drain/material_not_permitted", "steel is laid in the ground", "drain/joint_not_permitted", "pipes", drains, set("material", "steel_galvanized")},
	{"drain/reduces_in_flow", "it is one size smaller than what drains into it", "drain vent/wet_vent_overloaded", "pipes", drains, smaller("size", 1)},
	{"drain/overloaded", "it is one size smaller than its load needs", "drain", "pipes", drains, smaller("size", 1)},
	{"drain/too_small_for_water_closet", "it is too small for a closet", "drain fixture/drain_smaller_than_trap", "pipes", drains, smaller("size", 2)},
	{"fixture/drain_smaller_than_trap", "the drain is smaller than the trap", "drain", "pipes", level, smaller("size", 1)},
	{"drain/fitting_wrong_for_direction", "a tee lies where a wye belongs", "drain/double_fitting_misused", "junctions", kindless, set("fitting", "sanitary_tee")},
	{"drain/joint_not_permitted", "a coupling without a shield", "", "pipes/joints", every, set("kind", "unshielded_coupling")},
	{"cleanout/missing", "the cleanout is left out", "cleanout", "pipes/devices", kindOf("cleanout"), part.remove},
	{"cleanout/too_small", "the cleanout is two sizes too small", "", "pipes/devices", kindOf("cleanout"), smaller("size", 2)},
	{"cleanout/no_clearance", "6 in of room in front of the cleanout", "", "pipes/devices", kindOf("cleanout"), change("clearance", quantity.Length, inches(6))},
	{"cleanout/no_access", "the cleanout cannot be reached", "", "pipes/devices", kindOf("cleanout"), set("accessible", false)},
	{"backwater/no_access", "the backwater valve cannot be reached", "", "pipes/devices", kindOf("backwater_valve"), set("accessible", false)},
	{"backwater/missing", "the backwater valve is left out", "backwater", "pipes/devices", kindOf("backwater_valve"), part.remove},
	{"vent/too_small", "the vent is three sizes too small", "vent", "pipes", vents, smaller("size", 3)},
	{"vent/too_small_for_length", "the vent is two sizes too small", "vent", "pipes", vents, smaller("size", 2)},
	{"vent/holds_water", "the vent falls away from its drain", "", "pipes", vents, change("slope", quantity.Slope, times(-1, 1))},
	{"vent/dry_below_rim", "the vent turns level below the rim", "vent/horizontal_below_rim", "pipes", vents, change("invert_from", quantity.Length, func(n int64) int64 { return n - 18*25_400 })},
	{"vent/missing", "the vent is left out", "vent", "pipes", vents, part.remove},
	{"vent/missing_save_floor_drains", "the vent is left out", "vent", "pipes", vents, part.remove},
	{"vent/terminal_too_low", "the vent ends too near the roof", "", "terminals", every, change("height_above_roof", quantity.Length, inches(2))},
	{"vent/terminal_near_opening", "the vent ends beside a window", "", "terminals", every, change("distance_to_opening", quantity.Length, inches(36))},
	{"vent/terminal_near_lot_line", "the vent ends at the lot line", "", "terminals", every, change("distance_to_lot_line", quantity.Length, inches(12))},
	{"vent/terminal_too_small", "the vent ends in a smaller size", "", "terminals", kindOf("roof_vent", "wall_vent"), smaller("size", 2)},
	{"air_admittance/too_low", "the valve sits too low", "", "terminals", every, change("height_above_drain", quantity.Length, inches(2))},
	{"air_admittance/in_insulation", "the valve sits in the insulation", "", "terminals", every, change("height_above_insulation", quantity.Length, inches(1))},
	{"air_admittance/no_access", "the valve cannot be reached", "", "terminals", every, set("accessible", false)},
	{"air_admittance/in_plenum", "the valve sits in a plenum", "", "terminals", every, set("in_plenum", true)},
	{"air_admittance/undersized", "the rating of the valve is a quarter", "", "terminals", every, change("rating", quantity.Load, times(1, 4))},
	{"air_admittance/smaller_than_vent", "the valve is smaller than its vent", "", "terminals", kindOf("air_admittance_valve"), smaller("size", 1)},
}

var drained = []recipe{
	{"fixture/trap_too_small", "the trap is one size too small", "", "fixtures", every, smaller("trap/size", 1)},
	{"fixture/trap_seal_out_of_range", "the trap seal is an inch", "", "fixtures", every, change("trap/seal", quantity.Length, inches(1))},
	{"fixture/trap_seal_out_of_range", "the trap seal is 5 in", "", "fixtures", every, change("trap/seal", quantity.Length, inches(5))},
	{"fixture/trap_type_not_permitted", "an S-trap", "", "fixtures", trapped, set("trap/type", "s_trap")},
	{"fixture/trap_type_not_permitted", "a bell trap", "", "fixtures", trapped, set("trap/type", "bell")},
	{"fixture/trap_missing", "the fixture has no trap", "fixture", "fixtures", trapped, set("trap/type", "none")},
	{"fixture/trap_primer_missing", "nothing keeps the trap seal", "", "fixtures", every, set("trap/seal_protection", "none")},
	{"fixture/outlet_drop_too_long", "the drop to the trap is 30 in", "", "fixtures", every, change("trap/outlet_drop", quantity.Length, inches(30))},
	{"fixture/outlet_run_too_long", "the run to the trap is 40 in", "", "fixtures", every, change("trap/outlet_run", quantity.Length, inches(40))},
	{"fixture/standpipe_out_of_range", "the standpipe is too tall", "", "fixtures", kindOf("clothes_washer"), change("trap/outlet_drop", quantity.Length, inches(50))},
}

var lifted = []recipe{
	{"basin/not_gas_tight", "the cover lets gas through", "", "basins", every, set("cover/gas_tight", false)},
	{"basin/not_fastened", "the cover lies loose", "", "basins", every, set("cover/fastened", false)},
	{"basin/cover_not_removable", "the cover cannot be taken off", "", "basins", every, set("cover/removable", false)},
	{"basin/no_access", "the basin cannot be reached", "", "basins", every, set("accessible", false)},
	{"basin/too_small", "the basin is 16 in wide", "pump basin", "basins", every, change("diameter", quantity.Length, inches(16))},
	{"basin/levels_out_of_order", "the alarm sounds below the start level", "", "basins", every,
		func(e part) []plant.Operation {
			start, ok := e.fixed("levels/start", quantity.Length)
			return only(ok, e.change("levels/alarm", quantity.Length, func(int64) int64 { return start - 3*25_400 }))
		}},
	{"basin/alarm_above_inlet", "the alarm sounds above the inlet", "", "basins", every,
		func(e part) []plant.Operation {
			inlet, ok := e.fixed("inlet/height", quantity.Length)
			return only(ok, e.change("levels/alarm", quantity.Length, func(int64) int64 { return inlet + 2*25_400 }))
		}},
	{"basin/level_floods_inlet", "the pump starts when the inlet is under water", "basin/alarm_above_inlet basin/levels_out_of_order pump", "basins", every,
		func(e part) []plant.Operation {
			inlet, ok := e.fixed("inlet/height", quantity.Length)
			start := e.change("levels/start", quantity.Length, func(int64) int64 { return inlet - 25_400 })
			alarm := e.change("levels/alarm", quantity.Length, func(int64) int64 { return inlet - 12_700 })
			return only(ok && start != nil && alarm != nil, append(start, alarm...))
		}},
	{"basin/inlet_undersized", "the inlet is two sizes too small", "", "basins", every, smaller("inlet/size", 2)},
	{"basin/inlet_mismatch", "the inlet is higher than the drain", "", "basins", every, change("inlet/height", quantity.Length, func(n int64) int64 { return n + 2*25_400 })},
	{"basin/floats", "no slab holds the basin down and the ground is wet", "", "basins", every, drop("anti_flotation_slab")},
	{"basin/not_vented", "the vent of the basin is left out", "basin", "pipes", vents, part.remove},
	{"basin/vent_too_small", "the vent of the basin is two sizes too small", "basin", "pipes", vents, smaller("size", 2)},
	{"pump/alarm_missing", "there is no alarm", "", "basins", every, set("alarm/kind", "none")},
	{"pump/alarm_on_pump_circuit", "the alarm hangs on the circuit of the pump", "", "basins", every, set("alarm/own_circuit", false)},
	{"pump/runs_too_short", "start and stop are 2 in apart", "pump basin/drawdown_below_pipe_content", "basins", every,
		func(e part) []plant.Operation {
			stop, ok := e.fixed("levels/stop", quantity.Length)
			return only(ok, e.change("levels/start", quantity.Length, func(int64) int64 { return stop + 2*25_400 }))
		}},
	{"pump/solids_too_small", "the pump passes half the solids", "pump/solids_too_small_for_use", "pumps", every, change("solids", quantity.Length, times(1, 2))},
	{"pump/kind_not_for_closet", "an effluent pump serves a closet", "pump", "pumps", every, set("kind", "effluent")},
	{"pump/cord_too_short", "the cord is half as long", "", "pumps", every, change("cord_length", quantity.Length, times(1, 2))},
	{"pump/starts_too_often", "the motor may start a third as often", "", "pumps", every, set("max_starts_per_hour", 6)},
	{"pump/outlet_reduced", "the outlet of the pump is larger than its pipe", "", "pumps", every, set("outlet", "4 in")},
	{"pump/cannot_lift", "the pump has less than half the head", "pump discharge basin", "pumps", every, weaker(2, 5)},
	{"pump/rate_too_low", "the pump has less head", "pump discharge/velocity_out_of_range", "pumps", every, weaker(13, 20)},
	{"pump/relief_hole_missing", "there is no relief hole", "", "pipes/devices", kindOf("relief_hole"), part.remove},
	{"discharge/check_valve_missing", "the check valve is left out", "pump/starts_too_often", "pipes/devices", kindOf("check_valve"), part.remove},
	{"discharge/shutoff_missing", "the shutoff is left out", "", "pipes/devices", kindOf("full_open_valve"), part.remove},
	{"discharge/shutoff_not_full_open", "the shutoff is a globe valve", "", "pipes/devices", kindOf("full_open_valve"), set("style", "globe")},
	{"discharge/valve_not_accessible", "a valve cannot be reached", "", "pipes/devices", kindOf("check_valve", "full_open_valve"), set("accessible", false)},
	{"discharge/valves_out_of_order", "the shutoff stands before the check valve", "", "pipes/devices", kindOf("full_open_valve"),
		func(e part) []plant.Operation {
			for _, other := range e.beside {
				if other.is("kind", "check_valve") {
					return swap(other, e)
				}
			}
			return nil
		}},
	{"discharge/material_not_permitted", "drain pipe carries pressure", "discharge", "pipes", pumped, set("material", "pvc_dwv")},
	{"discharge/not_pressure_rated", "the pipe is rated for 5 psi", "discharge", "pipes", pumped, change("pressure_rating", quantity.Pressure, func(int64) int64 { return 34_474 })},
	{"discharge/too_small", "the pipe is one size smaller", "discharge pump", "pipes", pumped, smaller("size", 1)},
	{"discharge/velocity_out_of_range", "the pipe is a size larger than the flow can scour", "pump", "pipes", pumped, set("size", "3 in")},
	{"discharge/connects_wrongly", "it joins through a tee", "", "connections", every, set("fitting", "sanitary_tee")},
	{"discharge/enters_wrong_side", "it enters from the side", "", "connections", every, set("entry", "side")},
	{"discharge/overloads_receiver", "the receiving drain carries five times the load already", "", "connections", every, change("existing_load", quantity.Load, times(5, 1))},
	{"discharge/too_near_stack_base", "it joins 2 ft from the foot of a stack", "", "connections", every, change("distance_from_stack_base", quantity.Length, inches(24))},
	{"discharge/too_near_fixture_drain", "it joins 2 ft from a fixture drain", "", "connections", every, change("distance_from_fixture_drain", quantity.Length, inches(24))},
}

// only returns the operations where they make sense.
func only(ok bool, ops []plant.Operation) []plant.Operation {
	if !ok {
		return nil
	}
	return ops
}

func kindless(e part) bool {
	return !e.is("fitting", "sanitary_tee", "vent_tee", "end_cap", "coupling")
}

func trapped(e part) bool { return e.is("trap/type", "p_trap") }

// weaker scales the heads of a pump's curve.
func weaker(num, den int64) edit {
	return func(e part) []plant.Operation {
		var ops []plant.Operation
		for _, point := range elementsOf(e.values["curve"], "", e.path+"/curve", &e) {
			ops = append(ops, point.change("head", quantity.Length, times(num, den))...)
		}
		return ops
	}
}
