package rules.drain.reduces_in_flow_test

import data.rules.drain.reduces_in_flow

profile := {}

given := {"id": "b1", "role": "branch", "lie": "horizontal", "size": "DN 80", "dn": 80, "slope": 20833, "fixtures": 2, "water_closets": 1, "largest_inflow_dn": 50, "largest_inflow_id": "b0", "largest_inflow_kind": "pipe"}

test_pass_when_larger if outcome(given, profile) == "pass"

test_fail_when_smaller if outcome(object.union(given, {"largest_inflow_dn": 100}), profile) == "fail"

test_boundary_same_size if outcome(object.union(given, {"largest_inflow_dn": 80}), profile) == "pass"

test_boundary_one_size_smaller if outcome(object.union(given, {"dn": 65, "largest_inflow_dn": 80}), profile) == "fail"

test_pass_closet_outlet_of_4_in_on_3_in_drain if outcome(object.union(given, {"largest_inflow_dn": 100, "largest_inflow_kind": "closet_outlet"}), profile) == "pass"

test_pass_smaller_than_trap_is_left_to_the_rule_about_traps if outcome(object.union(given, {"dn": 32, "largest_inflow_dn": 40, "largest_inflow_kind": "trap"}), profile) == "pass"

test_pass_trap_of_unknown_size_is_left_to_the_rule_about_traps if {
	outcome(object.union(object.remove(given, ["largest_inflow_dn"]), {"largest_inflow_kind": "trap"}), profile) == "pass"
}

test_fail_smaller_than_fixture_outlet if outcome(object.union(given, {"dn": 32, "largest_inflow_dn": 40, "largest_inflow_kind": "fixture_outlet"}), profile) == "fail"

test_fail_without_fixtures_of_its_own if outcome(object.union(given, {"fixtures": 0, "largest_inflow_dn": 100}), profile) == "fail"

test_open_without_size if open(object.remove(given, ["dn"]), profile)

test_open_without_inflow_size if open(object.remove(given, ["largest_inflow_dn", "largest_inflow_kind"]), profile)

test_open_for_one_fixture_without_inflow_size if {
	open(object.union(object.remove(given, ["largest_inflow_dn", "largest_inflow_kind"]), {"fixtures": 1}), profile)
}

test_not_subject_when_nothing_flows_in if {
	not is_subject(object.union(object.remove(given, ["largest_inflow_dn", "largest_inflow_kind"]), {"fixtures": 0}))
}

outcome(d, p) := o if {
	o := reduces_in_flow.verdict[d.id].outcome with input as {"drains": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not reduces_in_flow.verdict[d.id] with input as {"drains": [d]} with data.profile as p
}

is_subject(d) if reduces_in_flow.subject[d.id] with input as {"drains": [d]}
