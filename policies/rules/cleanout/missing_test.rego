package rules.cleanout.missing_test

import data.rules.cleanout.missing

profile := {"cleanout": {"upper_end": true, "short_run": 1524000, "short_run_never_for": ["kitchen_sink", "urinal"], "stack_base": true, "building_exit": true}}

given := {"id": "b1/upper-end", "reason": "upper_end", "pipe_id": "b1", "role": "branch", "has_cleanout": false, "any_upstream": false, "fixture_removable": false, "fixture_kinds": ["shower"], "length": 3048000}

test_pass_at_upper_end if outcome(object.union(given, {"has_cleanout": true}), profile) == "pass"

test_pass_where_the_fixture_comes_off if outcome(object.union(given, {"fixture_removable": true}), profile) == "pass"

test_fail_at_upper_end if outcome(given, profile) == "fail"

# 5 ft: IAPMO plumbing code 707.4, from memory.
test_boundary_short_drain if outcome(object.union(given, {"length": 1524000}), profile) == "pass"

test_boundary_drain_a_64th_longer if outcome(object.union(given, {"length": 1524397}), profile) == "fail"

test_fail_short_drain_of_a_sink if outcome(object.union(given, {"length": 914400, "fixture_kinds": ["kitchen_sink"]}), profile) == "fail"

test_fail_short_drain_where_none_is_exempt if outcome(object.union(given, {"length": 914400}), json.remove(profile, ["cleanout/short_run", "cleanout/short_run_never_for"])) == "fail"

test_pass_short_drain_with_cleanout if outcome(object.union(given, {"length": 914400, "has_cleanout": true}), profile) == "pass"

test_fail_at_the_base_of_a_stack_with_a_removable_fixture if outcome(object.union(given, {"reason": "stack_base", "fixture_removable": true}), profile) == "fail"

test_fail_at_stack_base if outcome(object.union(given, {"reason": "stack_base"}), profile) == "fail"

test_pass_at_stack_base if outcome(object.union(given, {"reason": "stack_base", "has_cleanout": true}), profile) == "pass"

test_pass_at_stack_base_where_not_asked_for if outcome(object.union(given, {"reason": "stack_base"}), object.union(profile, {"cleanout": {"stack_base": false}})) == "pass"

test_fail_at_building_exit if outcome(object.union(given, {"reason": "building_exit"}), profile) == "fail"

test_fail_at_the_base_of_a_short_drain if outcome(object.union(given, {"reason": "stack_base", "length": 914400}), profile) == "fail"

test_open_upper_end_of_unknown_length if open(object.remove(given, ["length"]), profile)

test_open_upper_end_without_table if open(given, json.remove(profile, ["cleanout/upper_end"]))

test_open_stack_base_without_table if open(object.union(given, {"reason": "stack_base"}), json.remove(profile, ["cleanout/stack_base"]))

test_open_building_exit_without_table if open(object.union(given, {"reason": "building_exit"}), json.remove(profile, ["cleanout/building_exit"]))

test_not_subject_at_a_turn if not is_subject(object.union(given, {"reason": "direction_change"}))

test_fail_shortest_run_from_a_kitchen_sink if outcome(object.union(given, {"fixture_kinds": ["kitchen_sink"], "length": 1}), profile) == "fail"

test_fail_shortest_run_where_none_is_exempt if outcome(object.union(given, {"length": 1}), json.remove(profile, ["cleanout/short_run"])) == "fail"

outcome(d, p) := o if {
	o := missing.verdict[d.id].outcome with input as {"cleanout_needs": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not missing.verdict[d.id] with input as {"cleanout_needs": [d]} with data.profile as p
}

is_subject(d) if missing.subject[d.id] with input as {"cleanout_needs": [d]}
