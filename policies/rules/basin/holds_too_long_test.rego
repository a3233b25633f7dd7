package rules.basin.holds_too_long_test

import data.rules.basin.holds_too_long

# 12 h stands for any time a profile states; common practice.
profile := {"basin": {"max_hold_time": 43200000}}

given(facts) := {"basins": [object.union({"id": "s1"}, facts)]}

test_pass_well_inside if holds_too_long.verdict.s1.outcome == "pass" with input as given({"hold_time": 21600000}) with data.profile as profile

test_fail_well_outside if holds_too_long.verdict.s1.outcome == "fail" with input as given({"hold_time": 86400000}) with data.profile as profile

test_boundary_at_the_limit if {
	holds_too_long.verdict.s1.outcome == "pass" with input as given({"hold_time": 43200000}) with data.profile as profile
	holds_too_long.verdict.s1.outcome == "fail" with input as given({"hold_time": 43201000}) with data.profile as profile
}

test_open_fact_missing if {
	holds_too_long.subject.s1 with input as given({}) with data.profile as profile
	not holds_too_long.verdict.s1 with input as given({}) with data.profile as profile
}

test_open_table_missing if {
	holds_too_long.subject.s1 with input as given({"hold_time": 21600000}) with data.profile as {}
	not holds_too_long.verdict.s1 with input as given({"hold_time": 21600000}) with data.profile as {}
}

test_not_subject_fixture if count(holds_too_long.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
