package rules.drain.overloaded_test

import data.rules.drain.overloaded

profile := {"building_drain": {"max_load": {"DN 80": [{"at": 10417, "value": 36000}, {"at": 20833, "value": 42000}, {"at": 41667, "value": 50000}]}}, "branch": {"max_load": {"DN 80": 20000}}, "stack": {"max_load_few": {"DN 80": 48000}, "max_load_many": {"DN 80": 72000}}}

given := {"id": "b1", "role": "branch", "lie": "horizontal", "size": "DN 80", "dn": 80, "slope": 20833, "fixtures": 2, "water_closets": 1, "load": 15000}

test_pass_branch if outcome(given, profile) == "pass"

test_fail_branch if outcome(object.union(given, {"load": 30000}), profile) == "fail"

# 3 in branch, stack and building drain: ICC plumbing code tables 710.1(1) and 710.1(2), from memory.
test_boundary_branch_at_the_limit if outcome(object.union(given, {"load": 20000}), profile) == "pass"

test_boundary_branch_half_a_unit_over if outcome(object.union(given, {"load": 20500}), profile) == "fail"

test_pass_branch_with_intervals_stated if outcome(object.union(given, {"branch_intervals": 5}), profile) == "pass"

test_pass_branch_with_few_intervals_stated if outcome(object.union(given, {"branch_intervals": 2}), profile) == "pass"

test_pass_fixture_drain if outcome(object.union(given, {"role": "fixture_drain", "load": 20000}), profile) == "pass"

# A 1-1/4 in fixture drain stands for 1 unit: ICC plumbing code table 709.2, from memory.
small := object.union(profile, {"fixture_drain": {"max_load": {"DN 32": 1000}}})

lavatory := object.union(given, {"role": "fixture_drain", "size": "DN 32", "dn": 32, "load": 1000})

test_boundary_small_fixture_drain if outcome(lavatory, small) == "pass"

test_boundary_small_fixture_drain_half_a_unit_over if outcome(object.union(lavatory, {"load": 1500}), small) == "fail"

test_open_branch_of_that_size if open(object.union(lavatory, {"role": "branch"}), small)

test_open_small_fixture_drain_without_table_entry if open(lavatory, profile)

test_boundary_building_drain_at_an_eighth if outcome(object.union(given, {"role": "building_drain", "slope": 10417, "load": 36000}), profile) == "pass"

test_boundary_building_drain_at_an_eighth_half_a_unit_over if outcome(object.union(given, {"role": "building_drain", "slope": 10417, "load": 36500}), profile) == "fail"

test_pass_building_drain_with_more_fall if outcome(object.union(given, {"role": "building_drain", "slope": 20833, "load": 36500}), profile) == "pass"

test_pass_building_sewer if outcome(object.union(given, {"role": "building_sewer", "load": 42000}), profile) == "pass"

test_fail_building_sewer if outcome(object.union(given, {"role": "building_sewer", "load": 42500}), profile) == "fail"

test_boundary_short_stack if outcome(object.union(given, {"role": "stack", "branch_intervals": 3, "load": 48000}), profile) == "pass"

test_boundary_short_stack_half_a_unit_over if outcome(object.union(given, {"role": "stack", "branch_intervals": 3, "load": 48500}), profile) == "fail"

test_boundary_tall_stack if outcome(object.union(given, {"role": "stack", "branch_intervals": 4, "load": 72000}), profile) == "pass"

test_boundary_tall_stack_half_a_unit_over if outcome(object.union(given, {"role": "stack", "branch_intervals": 4, "load": 72500}), profile) == "fail"

test_pass_stack_of_unknown_height_within_the_lesser_figure if outcome(object.union(given, {"role": "stack", "load": 48000}), profile) == "pass"

test_open_stack_of_unknown_height_over_the_lesser_figure if open(object.union(given, {"role": "stack", "load": 48500}), profile)

# 3 in stack of any height: IAPMO plumbing code table 703.2, as read in a handout of King County.
any_height := {"building_drain": {"max_load": {}}, "branch": {"max_load": {}}, "stack": {"max_load": {"DN 80": 48000}}}

test_boundary_stack_of_any_height if {
	every facts in [{}, {"branch_intervals": 2}, {"branch_intervals": 5}] {
		outcome(object.union_n([given, {"role": "stack", "load": 48000}, facts]), any_height) == "pass"
		outcome(object.union_n([given, {"role": "stack", "load": 48500}, facts]), any_height) == "fail"
	}
}

test_open_without_load if open(object.remove(given, ["load"]), profile)

test_open_without_size if open(object.remove(given, ["size"]), profile)

test_open_building_drain_flatter_than_the_table if open(object.union(given, {"role": "building_drain", "slope": 5208}), profile)

test_open_without_branch_table if open(given, json.remove(profile, ["branch/max_load"]))

test_open_without_building_drain_table if open(object.union(given, {"role": "building_drain"}), json.remove(profile, ["building_drain/max_load/DN 80"]))

test_open_without_table_for_tall_stacks if open(object.union(given, {"role": "stack", "branch_intervals": 5}), json.remove(profile, ["stack/max_load_many"]))

test_open_building_drain_without_slope if {
	open(object.union(object.remove(given, ["slope"]), {"role": "building_drain"}), profile)
}

test_not_subject_when_there_is_no_drain if count(overloaded.subject) == 0 with input as {"drains": []}

outcome(d, p) := o if {
	o := overloaded.verdict[d.id].outcome with input as {"drains": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not overloaded.verdict[d.id] with input as {"drains": [d]} with data.profile as p
}

is_subject(d) if overloaded.subject[d.id] with input as {"drains": [d]}
