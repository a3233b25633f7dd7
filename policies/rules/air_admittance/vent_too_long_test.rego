package rules.air_admittance.vent_too_long_test

import data.rules.air_admittance.vent_too_long

# 40 ft stands for any length a profile states.
profile := {"air_admittance": {"max_length": 12192000}}

given(facts) := {"air_admittance_valves": [object.union({"id": "v1"}, facts)]}

test_pass_well_inside if vent_too_long.verdict.v1.outcome == "pass" with input as given({"length": 6096000}) with data.profile as profile

test_fail_well_outside if vent_too_long.verdict.v1.outcome == "fail" with input as given({"length": 24384000}) with data.profile as profile

test_boundary_at_the_limit if {
	vent_too_long.verdict.v1.outcome == "pass" with input as given({"length": 12192000}) with data.profile as profile
	vent_too_long.verdict.v1.outcome == "fail" with input as given({"length": 12192397}) with data.profile as profile
}

test_open_fact_missing if {
	vent_too_long.subject.v1 with input as given({}) with data.profile as profile
	not vent_too_long.verdict.v1 with input as given({}) with data.profile as profile
}

test_open_table_missing if {
	vent_too_long.subject.v1 with input as given({"length": 6096000}) with data.profile as {}
	not vent_too_long.verdict.v1 with input as given({"length": 6096000}) with data.profile as {}
}

test_not_subject_fixture if count(vent_too_long.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
