package rules.discharge.no_loop_above_backflow_level_test

import data.rules.discharge.no_loop_above_backflow_level

# Invert of the loop above the backflow level: EN 12056-4, no margin stated.
profile := {"discharge": {"min_loop": 0}}

given(facts) := {"discharges": [object.union({"id": "d1"}, facts)]}

test_pass_well_inside if no_loop_above_backflow_level.verdict.d1.outcome == "pass" with input as given({"loop_above_backflow": 100000}) with data.profile as profile

test_fail_well_outside if no_loop_above_backflow_level.verdict.d1.outcome == "fail" with input as given({"loop_above_backflow": -500000}) with data.profile as profile

test_boundary_at_the_limit if {
	no_loop_above_backflow_level.verdict.d1.outcome == "pass" with input as given({"loop_above_backflow": 0}) with data.profile as profile
	no_loop_above_backflow_level.verdict.d1.outcome == "fail" with input as given({"loop_above_backflow": -1000}) with data.profile as profile
}

test_open_fact_missing if {
	no_loop_above_backflow_level.subject.d1 with input as given({}) with data.profile as profile
	not no_loop_above_backflow_level.verdict.d1 with input as given({}) with data.profile as profile
}

test_open_table_missing if {
	no_loop_above_backflow_level.subject.d1 with input as given({"loop_above_backflow": 100000}) with data.profile as {}
	not no_loop_above_backflow_level.verdict.d1 with input as given({"loop_above_backflow": 100000}) with data.profile as {}
}

test_not_subject_fixture if count(no_loop_above_backflow_level.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
