package rules.basin.too_small_test

import data.rules.basin.too_small

# 18 in: ICC plumbing code 712.3.2, from memory.
profile := {"basin": {"min_diameter": 457200}}

given(facts) := {"basins": [object.union({"id": "s1"}, facts)]}

test_pass_well_inside if too_small.verdict.s1.outcome == "pass" with input as given({"diameter": 914400}) with data.profile as profile

test_fail_well_outside if too_small.verdict.s1.outcome == "fail" with input as given({"diameter": 228600}) with data.profile as profile

test_boundary_at_the_limit if {
	too_small.verdict.s1.outcome == "pass" with input as given({"diameter": 457200}) with data.profile as profile
	too_small.verdict.s1.outcome == "fail" with input as given({"diameter": 456803}) with data.profile as profile
}

test_open_fact_missing if {
	too_small.subject.s1 with input as given({}) with data.profile as profile
	not too_small.verdict.s1 with input as given({}) with data.profile as profile
}

test_open_table_missing if {
	too_small.subject.s1 with input as given({"diameter": 914400}) with data.profile as {}
	not too_small.verdict.s1 with input as given({"diameter": 914400}) with data.profile as {}
}

test_not_subject_fixture if count(too_small.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
