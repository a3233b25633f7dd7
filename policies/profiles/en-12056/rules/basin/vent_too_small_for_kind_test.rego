package rules.basin.vent_too_small_for_kind_test

import data.rules.basin.vent_too_small_for_kind

# DN 70, with macerator DN 50: EN 12056-4 5.3, from memory.
profile := {"basin": {"vent_min_size_by_kind": {"solids_handling": 70, "grinder": 50}}}

more := {"pumps": [{"id": "p1", "basin_id": "s1", "kind": "solids_handling"}, {"id": "p2", "basin_id": "s2", "kind": "grinder"}]}

given := {"id": "s1", "has_vent": true, "vent_dn": 100}

test_pass_larger if outcome(given, profile) == "pass"

test_fail_smaller if outcome(object.union(given, {"vent_dn": 50}), profile) == "fail"

test_boundary_at_the_limit if outcome(object.union(given, {"vent_dn": 70}), profile) == "pass"

test_boundary_a_size_under if outcome(object.union(given, {"vent_dn": 65}), profile) == "fail"

test_open_without_size if open(object.remove(given, ["vent_dn"]), profile)

test_open_without_table if open(given, {})

test_open_kind_not_stated if not vent_too_small_for_kind.verdict.s1 with input as {"basins": [given], "pumps": [{"id": "p1", "basin_id": "s1"}]} with data.profile as profile

test_not_subject_without_vent if not is_subject(object.union(given, {"has_vent": false}))

test_fail_for_the_pump_that_asks_for_more if vent_too_small_for_kind.verdict.s1.outcome == "fail" with input as {"basins": [object.union(given, {"vent_dn": 60})], "pumps": [{"id": "p1", "basin_id": "s1", "kind": "solids_handling"}, {"id": "p2", "basin_id": "s1", "kind": "grinder"}]} with data.profile as profile

test_pass_whatever_pumps_another_basin_has if vent_too_small_for_kind.verdict.s1.outcome == "pass" with input as {"basins": [object.union(given, {"vent_dn": 50})], "pumps": [{"id": "p1", "basin_id": "s1", "kind": "grinder"}, {"id": "p2", "basin_id": "s2", "kind": "solids_handling"}]} with data.profile as profile

test_open_when_the_kind_of_one_of_two_is_not_stated if not vent_too_small_for_kind.verdict.s1 with input as {"basins": [given], "pumps": [{"id": "p1", "basin_id": "s1"}, {"id": "p2", "basin_id": "s1", "kind": "grinder"}]} with data.profile as profile

outcome(d, p) := o if {
	o := vent_too_small_for_kind.verdict[d.id].outcome with input as object.union(more, {"basins": [d]}) with data.profile as p
}

open(d, p) if {
	vent_too_small_for_kind.subject[d.id] with input as object.union(more, {"basins": [d]}) with data.profile as p
	not vent_too_small_for_kind.verdict[d.id] with input as object.union(more, {"basins": [d]}) with data.profile as p
}

is_subject(d) if vent_too_small_for_kind.subject[d.id] with input as object.union(more, {"basins": [d]}) with data.profile as profile
