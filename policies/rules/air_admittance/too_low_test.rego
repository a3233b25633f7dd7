package rules.air_admittance.too_low_test

import data.rules.air_admittance.too_low

# 4 in: ICC plumbing code 918.4, from memory.
profile := {"air_admittance": {"min_above_drain": 101600}}

given(facts) := {"air_admittance_valves": [object.union({"id": "v1"}, facts)]}

test_pass_high if too_low.verdict.v1.outcome == "pass" with input as given({"valve_type": "branch", "height_above_drain": 203200}) with data.profile as profile

test_fail_low if too_low.verdict.v1.outcome == "fail" with input as given({"valve_type": "individual", "height_above_drain": 50800}) with data.profile as profile

test_boundary_at_four_inches if {
	too_low.verdict.v1.outcome == "pass" with input as given({"valve_type": "individual", "height_above_drain": 101600}) with data.profile as profile
	too_low.verdict.v1.outcome == "fail" with input as given({"valve_type": "individual", "height_above_drain": 101203}) with data.profile as profile
}

test_open_height_missing if {
	too_low.subject.v1 with input as given({"valve_type": "branch"}) with data.profile as profile
	not too_low.verdict.v1 with input as given({"valve_type": "branch"}) with data.profile as profile
}

test_open_type_missing if {
	too_low.subject.v1 with input as given({"height_above_drain": 203200}) with data.profile as profile
	not too_low.verdict.v1 with input as given({"height_above_drain": 203200}) with data.profile as profile
}

test_open_table_missing if {
	too_low.subject.v1 with input as given({"valve_type": "branch", "height_above_drain": 203200}) with data.profile as {}
	not too_low.verdict.v1 with input as given({"valve_type": "branch", "height_above_drain": 203200}) with data.profile as {}
}

test_not_subject_stack_type if not too_low.subject.v1 with input as given({"valve_type": "stack", "height_above_drain": 50800}) with data.profile as profile
