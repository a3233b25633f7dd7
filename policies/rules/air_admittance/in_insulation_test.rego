package rules.air_admittance.in_insulation_test

import data.rules.air_admittance.in_insulation

# 6 in: ICC plumbing code 918.4, from memory.
profile := {"air_admittance": {"min_above_insulation": 152400}}

given(facts) := {"air_admittance_valves": [object.union({"id": "v1"}, facts)]}

test_pass_clear if in_insulation.verdict.v1.outcome == "pass" with input as given({"insulation": "present", "height_above_insulation": 304800}) with data.profile as profile

test_pass_no_insulation if in_insulation.verdict.v1.outcome == "pass" with input as given({"insulation": "none"}) with data.profile as profile

test_fail_buried if in_insulation.verdict.v1.outcome == "fail" with input as given({"insulation": "present", "height_above_insulation": 0}) with data.profile as profile

test_boundary_at_six_inches if {
	in_insulation.verdict.v1.outcome == "pass" with input as given({"insulation": "present", "height_above_insulation": 152400}) with data.profile as profile
	in_insulation.verdict.v1.outcome == "fail" with input as given({"insulation": "present", "height_above_insulation": 152003}) with data.profile as profile
}

test_open_insulation_not_stated if {
	in_insulation.subject.v1 with input as given({"height_above_insulation": 304800}) with data.profile as profile
	not in_insulation.verdict.v1 with input as given({"height_above_insulation": 304800}) with data.profile as profile
}

test_open_height_missing if {
	in_insulation.subject.v1 with input as given({"insulation": "present"}) with data.profile as profile
	not in_insulation.verdict.v1 with input as given({"insulation": "present"}) with data.profile as profile
}

test_open_table_missing if {
	in_insulation.subject.v1 with input as given({"insulation": "present", "height_above_insulation": 304800}) with data.profile as {}
	not in_insulation.verdict.v1 with input as given({"insulation": "present", "height_above_insulation": 304800}) with data.profile as {}
}

test_not_subject_fixture if count(in_insulation.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
