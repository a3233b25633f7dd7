package rules.air_admittance.beyond_reach_test

import data.rules.air_admittance.beyond_reach

# Six branch intervals: ICC plumbing code 918.3.2, from memory.
profile := {"air_admittance": {"max_intervals": 6}}

given(facts) := {"air_admittance_valves": [object.union({"id": "v1"}, facts)]}

test_pass_low_stack if beyond_reach.verdict.v1.outcome == "pass" with input as given({"valve_type": "stack", "branch_intervals": 2}) with data.profile as profile

test_fail_high_stack if beyond_reach.verdict.v1.outcome == "fail" with input as given({"valve_type": "stack", "branch_intervals": 12}) with data.profile as profile

test_boundary_at_six if {
	beyond_reach.verdict.v1.outcome == "pass" with input as given({"valve_type": "stack", "branch_intervals": 6}) with data.profile as profile
	beyond_reach.verdict.v1.outcome == "fail" with input as given({"valve_type": "stack", "branch_intervals": 7}) with data.profile as profile
}

test_open_intervals_missing if {
	beyond_reach.subject.v1 with input as given({"valve_type": "stack"}) with data.profile as profile
	not beyond_reach.verdict.v1 with input as given({"valve_type": "stack"}) with data.profile as profile
}

test_open_type_missing if {
	beyond_reach.subject.v1 with input as given({"branch_intervals": 2}) with data.profile as profile
	not beyond_reach.verdict.v1 with input as given({"branch_intervals": 2}) with data.profile as profile
}

test_open_table_missing if {
	beyond_reach.subject.v1 with input as given({"valve_type": "stack", "branch_intervals": 2}) with data.profile as {}
	not beyond_reach.verdict.v1 with input as given({"valve_type": "stack", "branch_intervals": 2}) with data.profile as {}
}

test_not_subject_branch_type if not beyond_reach.subject.v1 with input as given({"valve_type": "branch"}) with data.profile as profile

test_not_subject_individual_type if not beyond_reach.subject.v1 with input as given({"valve_type": "individual"}) with data.profile as profile
