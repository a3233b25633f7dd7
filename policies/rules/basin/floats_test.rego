package rules.basin.floats_test

import data.rules.basin.floats

# 1.2: common practice.
profile := {"basin": {"min_flotation_factor": 1200}}

given(facts) := {"basins": [object.union({"id": "s1"}, facts)]}

test_pass_well_inside if floats.verdict.s1.outcome == "pass" with input as given({"flotation_factor": 2400}) with data.profile as profile

test_fail_well_outside if floats.verdict.s1.outcome == "fail" with input as given({"flotation_factor": 600}) with data.profile as profile

test_boundary_at_the_limit if {
	floats.verdict.s1.outcome == "pass" with input as given({"flotation_factor": 1200}) with data.profile as profile
	floats.verdict.s1.outcome == "fail" with input as given({"flotation_factor": 1199}) with data.profile as profile
}

test_open_fact_missing if {
	floats.subject.s1 with input as given({}) with data.profile as profile
	not floats.verdict.s1 with input as given({}) with data.profile as profile
}

test_open_table_missing if {
	floats.subject.s1 with input as given({"flotation_factor": 2400}) with data.profile as {}
	not floats.verdict.s1 with input as given({"flotation_factor": 2400}) with data.profile as {}
}

test_not_subject_fixture if count(floats.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
