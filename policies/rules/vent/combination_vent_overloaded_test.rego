package rules.vent.combination_vent_overloaded_test

import data.rules.vent.combination_vent_overloaded

profile := {"combination_vent": {"max_load_branch": {"DN 80": 12000}, "max_load_building_drain": {"DN 80": 31000}}}

more := {"wet_vents": [{"id": "b5", "kind": "combination"}, {"id": "b6", "kind": "wet"}]}

given := {"id": "b5", "role": "branch", "size": "DN 80", "dn": 80, "load": 6000}

test_pass_when_light if outcome(given, profile) == "pass"

test_fail_when_heavy if outcome(object.union(given, {"load": 20000}), profile) == "fail"

# 12 and 31 units for 3 in: ICC plumbing code table 915.2.2, from memory.
test_boundary_branch if outcome(object.union(given, {"load": 12000}), profile) == "pass"

test_boundary_branch_half_a_unit_over if outcome(object.union(given, {"load": 12500}), profile) == "fail"

test_boundary_building_drain if outcome(object.union(given, {"role": "building_drain", "load": 31000}), profile) == "pass"

test_boundary_building_drain_half_a_unit_over if outcome(object.union(given, {"role": "building_drain", "load": 31500}), profile) == "fail"

test_pass_stack if outcome(object.union(given, {"role": "stack"}), profile) == "pass"

test_pass_fixture_drain if outcome(object.union(given, {"role": "fixture_drain"}), profile) == "pass"

test_fail_building_sewer if outcome(object.union(given, {"role": "building_sewer", "load": 40000}), profile) == "fail"

test_open_without_load if open(object.remove(given, ["load"]), profile)

test_open_without_size if open(object.remove(given, ["size"]), profile)

test_open_without_branch_table if open(given, json.remove(profile, ["combination_vent/max_load_branch"]))

test_open_without_building_drain_table if open(object.union(given, {"role": "building_drain"}), json.remove(profile, ["combination_vent/max_load_building_drain"]))

test_not_subject_when_wet if not is_subject(object.union(given, {"id": "b6"}))

test_not_subject_when_no_vent if not is_subject(object.union(given, {"id": "b7"}))

outcome(d, p) := o if {
	o := combination_vent_overloaded.verdict[d.id].outcome with input as object.union(more, {"drains": [d]}) with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not combination_vent_overloaded.verdict[d.id] with input as object.union(more, {"drains": [d]}) with data.profile as p
}

is_subject(d) if combination_vent_overloaded.subject[d.id] with input as object.union(more, {"drains": [d]})
