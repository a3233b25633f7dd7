package rules.air_admittance.stack_type_too_low_test

import data.rules.air_admittance.stack_type_too_low

# 6 in: ICC plumbing code 918.4, from memory.
profile := {"air_admittance": {"stack_min_above_rim": 152400}}

given(facts) := {"air_admittance_valves": [object.union({"id": "v1"}, facts)]}

test_pass_high if stack_type_too_low.verdict.v1.outcome == "pass" with input as given({"valve_type": "stack", "height_above_rim": 304800}) with data.profile as profile

test_fail_below_the_rim if stack_type_too_low.verdict.v1.outcome == "fail" with input as given({"valve_type": "stack", "height_above_rim": -25400}) with data.profile as profile

test_boundary_at_six_inches if {
	stack_type_too_low.verdict.v1.outcome == "pass" with input as given({"valve_type": "stack", "height_above_rim": 152400}) with data.profile as profile
	stack_type_too_low.verdict.v1.outcome == "fail" with input as given({"valve_type": "stack", "height_above_rim": 152003}) with data.profile as profile
}

test_open_height_missing if {
	stack_type_too_low.subject.v1 with input as given({"valve_type": "stack"}) with data.profile as profile
	not stack_type_too_low.verdict.v1 with input as given({"valve_type": "stack"}) with data.profile as profile
}

test_open_type_missing if {
	stack_type_too_low.subject.v1 with input as given({"height_above_rim": 304800}) with data.profile as profile
	not stack_type_too_low.verdict.v1 with input as given({"height_above_rim": 304800}) with data.profile as profile
}

test_open_table_missing if {
	stack_type_too_low.subject.v1 with input as given({"valve_type": "stack", "height_above_rim": 304800}) with data.profile as {}
	not stack_type_too_low.verdict.v1 with input as given({"valve_type": "stack", "height_above_rim": 304800}) with data.profile as {}
}

test_not_subject_branch_type if not stack_type_too_low.subject.v1 with input as given({"valve_type": "branch"}) with data.profile as profile

test_not_subject_individual_type if not stack_type_too_low.subject.v1 with input as given({"valve_type": "individual"}) with data.profile as profile
