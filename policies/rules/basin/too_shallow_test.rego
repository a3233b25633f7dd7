package rules.basin.too_shallow_test

import data.rules.basin.too_shallow

# 24 in: ICC plumbing code 712.3.2, from memory.
profile := {"basin": {"min_depth": 609600}}

given(facts) := {"basins": [object.union({"id": "s1"}, facts)]}

test_pass_well_inside if too_shallow.verdict.s1.outcome == "pass" with input as given({"depth": 1219200}) with data.profile as profile

test_fail_well_outside if too_shallow.verdict.s1.outcome == "fail" with input as given({"depth": 304800}) with data.profile as profile

test_boundary_at_the_limit if {
	too_shallow.verdict.s1.outcome == "pass" with input as given({"depth": 609600}) with data.profile as profile
	too_shallow.verdict.s1.outcome == "fail" with input as given({"depth": 609203}) with data.profile as profile
}

test_open_fact_missing if {
	too_shallow.subject.s1 with input as given({}) with data.profile as profile
	not too_shallow.verdict.s1 with input as given({}) with data.profile as profile
}

test_open_table_missing if {
	too_shallow.subject.s1 with input as given({"depth": 1219200}) with data.profile as {}
	not too_shallow.verdict.s1 with input as given({"depth": 1219200}) with data.profile as {}
}

test_not_subject_fixture if count(too_shallow.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
