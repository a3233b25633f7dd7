package rules.basin.vent_below_least_size_test

import data.rules.basin.vent_below_least_size

# 1-1/4 in: ICC plumbing code 906.5.1, from memory.
profile := {"basin": {"vent_min_size": 32}}

given(facts) := {"basins": [object.union({"id": "s1"}, facts)]}

test_pass_well_inside if vent_below_least_size.verdict.s1.outcome == "pass" with input as given({"has_vent": true, "vent_dn": 50}) with data.profile as profile

test_fail_well_outside if vent_below_least_size.verdict.s1.outcome == "fail" with input as given({"has_vent": true, "vent_dn": 16}) with data.profile as profile

test_boundary_at_the_limit if {
	vent_below_least_size.verdict.s1.outcome == "pass" with input as given({"has_vent": true, "vent_dn": 32}) with data.profile as profile
	vent_below_least_size.verdict.s1.outcome == "fail" with input as given({"has_vent": true, "vent_dn": 25}) with data.profile as profile
}

test_open_fact_missing if {
	vent_below_least_size.subject.s1 with input as given({"has_vent": true}) with data.profile as profile
	not vent_below_least_size.verdict.s1 with input as given({"has_vent": true}) with data.profile as profile
}

test_open_table_missing if {
	vent_below_least_size.subject.s1 with input as given({"has_vent": true, "vent_dn": 50}) with data.profile as {}
	not vent_below_least_size.verdict.s1 with input as given({"has_vent": true, "vent_dn": 50}) with data.profile as {}
}

test_not_subject_no_vent if not vent_below_least_size.subject.s1 with input as given({"has_vent": false}) with data.profile as profile
