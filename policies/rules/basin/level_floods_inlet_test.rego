package rules.basin.level_floods_inlet_test

import data.rules.basin.level_floods_inlet

# 2 in: ICC plumbing code 712.3.4, from memory.
profile := {"basin": {"level_below_inlet": 50800}}

given(facts) := {"basins": [object.union({"id": "s1"}, facts)]}

test_pass_well_inside if level_floods_inlet.verdict.s1.outcome == "pass" with input as given({"start_below_inlet": 101600}) with data.profile as profile

test_fail_well_outside if level_floods_inlet.verdict.s1.outcome == "fail" with input as given({"start_below_inlet": 25400}) with data.profile as profile

test_boundary_at_the_limit if {
	level_floods_inlet.verdict.s1.outcome == "pass" with input as given({"start_below_inlet": 50800}) with data.profile as profile
	level_floods_inlet.verdict.s1.outcome == "fail" with input as given({"start_below_inlet": 50403}) with data.profile as profile
}

test_open_fact_missing if {
	level_floods_inlet.subject.s1 with input as given({}) with data.profile as profile
	not level_floods_inlet.verdict.s1 with input as given({}) with data.profile as profile
}

test_open_table_missing if {
	level_floods_inlet.subject.s1 with input as given({"start_below_inlet": 101600}) with data.profile as {}
	not level_floods_inlet.verdict.s1 with input as given({"start_below_inlet": 101600}) with data.profile as {}
}

test_fail_above_the_inlet if level_floods_inlet.verdict.s1.outcome == "fail" with input as given({"start_below_inlet": -25400}) with data.profile as profile

test_not_subject_fixture if count(level_floods_inlet.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
