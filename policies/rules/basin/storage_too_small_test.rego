package rules.basin.storage_too_small_test

import data.rules.basin.storage_too_small

# A day, in milliseconds: Approved Document H of England, H1 2.39, as its text was quoted.
profile := {"basin": {"min_reserve_time": 86400000}}

given(facts) := {"basins": [object.union({"id": "s1"}, facts)]}

test_pass_well_inside if storage_too_small.verdict.s1.outcome == "pass" with input as given({"reserve_time": 172800000}) with data.profile as profile

test_fail_well_outside if storage_too_small.verdict.s1.outcome == "fail" with input as given({"reserve_time": 43200000}) with data.profile as profile

test_boundary_at_the_limit if {
	storage_too_small.verdict.s1.outcome == "pass" with input as given({"reserve_time": 86400000}) with data.profile as profile
	storage_too_small.verdict.s1.outcome == "fail" with input as given({"reserve_time": 86399000}) with data.profile as profile
}

test_open_fact_missing if {
	storage_too_small.subject.s1 with input as given({}) with data.profile as profile
	not storage_too_small.verdict.s1 with input as given({}) with data.profile as profile
}

test_open_table_missing if {
	storage_too_small.subject.s1 with input as given({"reserve_time": 172800000}) with data.profile as {}
	not storage_too_small.verdict.s1 with input as given({"reserve_time": 172800000}) with data.profile as {}
}

test_not_subject_fixture if count(storage_too_small.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
