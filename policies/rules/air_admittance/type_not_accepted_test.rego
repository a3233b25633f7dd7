package rules.air_admittance.type_not_accepted_test

import data.rules.air_admittance.type_not_accepted

profile := {"air_admittance": {"valve_types": ["individual", "branch"]}}

given(facts) := {"air_admittance_valves": [object.union({"id": "v1"}, facts)]}

test_pass_branch if type_not_accepted.verdict.v1.outcome == "pass" with input as given({"valve_type": "branch"}) with data.profile as profile

test_fail_stack if type_not_accepted.verdict.v1.outcome == "fail" with input as given({"valve_type": "stack"}) with data.profile as profile

test_open_fact_missing if {
	type_not_accepted.subject.v1 with input as given({}) with data.profile as profile
	not type_not_accepted.verdict.v1 with input as given({}) with data.profile as profile
}

test_open_table_missing if {
	type_not_accepted.subject.v1 with input as given({"valve_type": "branch"}) with data.profile as {}
	not type_not_accepted.verdict.v1 with input as given({"valve_type": "branch"}) with data.profile as {}
}

test_not_subject_fixture if count(type_not_accepted.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
