package rules.vent.wet_vent_inlet_too_large_test

import data.rules.vent.wet_vent_inlet_too_large

# 2 in: Ontario building code 7.5.2.1. of 2024, as read in a reprint.
profile := {"wet_vent": {"max_inlet_size": 50}}

more := {"fixtures": [{"id": "lav", "kind": "lavatory", "drain_dn": 40}, {"id": "shower", "kind": "shower", "drain_dn": 50}, {"id": "tub", "kind": "bathtub", "drain_dn": 80}, {"id": "bath", "kind": "bathtub", "drain_dn": 65}, {"id": "wc", "kind": "water_closet", "drain_dn": 80}, {"id": "fd", "kind": "floor_drain", "load": 0, "drain_dn": 80}, {"id": "sink", "kind": "sink"}]}

given := {"id": "w1", "kind": "wet", "vented_fixtures": ["lav"]}

test_pass_smaller if outcome(given, profile) == "pass"

test_fail_larger if outcome(object.union(given, {"vented_fixtures": ["tub"]}), profile) == "fail"

test_boundary_at_the_limit if outcome(object.union(given, {"vented_fixtures": ["lav", "shower"]}), profile) == "pass"

test_boundary_a_size_over if outcome(object.union(given, {"vented_fixtures": ["lav", "bath"]}), profile) == "fail"

test_pass_water_closet_alone if outcome(object.union(given, {"vented_fixtures": ["wc"]}), profile) == "pass"

test_pass_emergency_floor_drain_alone if outcome(object.union(given, {"vented_fixtures": ["fd"]}), profile) == "pass"

test_open_size_not_stated if open(object.union(given, {"vented_fixtures": ["lav", "sink"]}), profile)

test_open_without_table if open(given, {})

test_not_subject_circuit_vent if not is_subject(object.union(given, {"kind": "circuit"}))

test_fail_large_inlet_without_load if wet_vent_inlet_too_large.verdict.w1.outcome == "fail" with input as {"fixtures": [{"id": "x", "kind": "drinking_fountain", "load": 0, "drain_dn": 80}], "wet_vents": [object.union(given, {"vented_fixtures": ["x"]})]} with data.profile as profile

test_fail_large_floor_drain_with_load if wet_vent_inlet_too_large.verdict.w1.outcome == "fail" with input as {"fixtures": [{"id": "x", "kind": "floor_drain", "load": 2000, "drain_dn": 80}], "wet_vents": [object.union(given, {"vented_fixtures": ["x"]})]} with data.profile as profile

outcome(d, p) := o if {
	o := wet_vent_inlet_too_large.verdict[d.id].outcome with input as object.union(more, {"wet_vents": [d]}) with data.profile as p
}

open(d, p) if {
	wet_vent_inlet_too_large.subject[d.id] with input as object.union(more, {"wet_vents": [d]}) with data.profile as p
	not wet_vent_inlet_too_large.verdict[d.id] with input as object.union(more, {"wet_vents": [d]}) with data.profile as p
}

is_subject(d) if wet_vent_inlet_too_large.subject[d.id] with input as object.union(more, {"wet_vents": [d]}) with data.profile as profile
