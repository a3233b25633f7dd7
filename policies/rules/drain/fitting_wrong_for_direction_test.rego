package rules.drain.fitting_wrong_for_direction_test

import data.rules.drain.fitting_wrong_for_direction

profile := {"fitting": {"changes_allowed": {"sanitary_tee": ["horizontal_to_vertical"], "quarter_bend": ["horizontal_to_vertical"], "short_sweep": ["horizontal_to_vertical"], "wye": ["horizontal_to_vertical", "vertical_to_horizontal", "horizontal_to_horizontal"]}, "small_fixture_drain_max_size": 50, "small_changes_allowed": {"quarter_bend": ["vertical_to_horizontal", "horizontal_to_horizontal"]}, "large_min_size": 80, "large_changes_allowed": {"short_sweep": ["vertical_to_horizontal"]}}}

given := {"id": "j1", "kind": "sanitary_tee", "source": "junction", "dn": 80, "changes": ["horizontal_to_vertical"], "double": false, "back_to_back": false, "water_closet_inlets": 0, "pumped_inlets": 0, "fixture_drain": false}

test_pass_sanitary_tee_into_a_stack if outcome(given, profile) == "pass"

test_pass_wye_on_its_side if outcome(object.union(given, {"kind": "wye", "changes": ["horizontal_to_horizontal"]}), profile) == "pass"

test_pass_without_change if outcome(object.union(given, {"changes": []}), profile) == "pass"

test_pass_straight_down if outcome(object.union(given, {"changes": ["vertical_to_vertical"]}), profile) == "pass"

test_fail_sanitary_tee_on_its_side if outcome(object.union(given, {"changes": ["horizontal_to_horizontal"]}), profile) == "fail"

test_fail_one_of_two_changes if outcome(object.union(given, {"changes": ["horizontal_to_vertical", "horizontal_to_horizontal"]}), profile) == "fail"

# 2 in and 3 in: ICC plumbing code table 706.3, from memory.
test_boundary_quarter_bend_on_a_2_in_fixture_drain if outcome(object.union(given, {"kind": "quarter_bend", "dn": 50, "fixture_drain": true, "changes": ["horizontal_to_horizontal"]}), profile) == "pass"

test_boundary_quarter_bend_on_a_larger_fixture_drain if outcome(object.union(given, {"kind": "quarter_bend", "dn": 65, "fixture_drain": true, "changes": ["horizontal_to_horizontal"]}), profile) == "fail"

test_fail_quarter_bend_on_a_small_branch if outcome(object.union(given, {"kind": "quarter_bend", "dn": 50, "changes": ["horizontal_to_horizontal"]}), profile) == "fail"

test_boundary_short_sweep_at_the_foot_of_3_in if outcome(object.union(given, {"kind": "short_sweep", "changes": ["vertical_to_horizontal"]}), profile) == "pass"

test_boundary_short_sweep_at_the_foot_of_a_smaller_one if outcome(object.union(given, {"kind": "short_sweep", "dn": 65, "changes": ["vertical_to_horizontal"]}), profile) == "fail"

test_pass_without_the_tables_of_exceptions if outcome(given, json.remove(profile, ["fitting/small_fixture_drain_max_size", "fitting/small_changes_allowed", "fitting/large_min_size", "fitting/large_changes_allowed"])) == "pass"

test_open_without_changes if open(object.remove(given, ["changes"]), profile)

test_open_without_kind if open(object.remove(given, ["kind"]), profile)

test_open_without_size if open(object.remove(given, ["dn"]), profile)

test_open_without_table_entry if open(given, json.remove(profile, ["fitting/changes_allowed/sanitary_tee"]))

test_not_subject_when_coupling if not is_subject(object.union(given, {"kind": "coupling"}))

test_not_subject_when_end_cap if not is_subject(object.union(given, {"kind": "end_cap"}))

test_not_subject_when_closet_flange if not is_subject(object.union(given, {"kind": "closet_flange"}))

outcome(d, p) := o if {
	o := fitting_wrong_for_direction.verdict[d.id].outcome with input as {"fittings": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not fitting_wrong_for_direction.verdict[d.id] with input as {"fittings": [d]} with data.profile as p
}

is_subject(d) if fitting_wrong_for_direction.subject[d.id] with input as {"fittings": [d]}
