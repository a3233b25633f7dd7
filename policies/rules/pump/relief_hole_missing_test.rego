package rules.pump.relief_hole_missing_test

import data.rules.pump.relief_hole_missing

# 3/16 in: common practice.
profile := {"pump": {"relief_hole_size": 4763}}

given(facts) := {"pumps": [object.union({"id": "p1"}, facts)]}

test_pass_quarter_inch if relief_hole_missing.verdict.p1.outcome == "pass" with input as given({"has_check_valve": true, "has_relief_hole": true, "relief_hole": 6350}) with data.profile as profile

test_fail_small if relief_hole_missing.verdict.p1.outcome == "fail" with input as given({"has_check_valve": true, "has_relief_hole": true, "relief_hole": 1588}) with data.profile as profile

test_fail_no_hole if relief_hole_missing.verdict.p1.outcome == "fail" with input as given({"has_check_valve": true, "has_relief_hole": false}) with data.profile as profile

test_fail_size_without_a_hole if relief_hole_missing.verdict.p1.outcome == "fail" with input as given({"has_check_valve": true, "has_relief_hole": false, "relief_hole": 6350}) with data.profile as profile

test_boundary_at_three_sixteenths if {
	relief_hole_missing.verdict.p1.outcome == "pass" with input as given({"has_check_valve": true, "has_relief_hole": true, "relief_hole": 4763}) with data.profile as profile
	relief_hole_missing.verdict.p1.outcome == "fail" with input as given({"has_check_valve": true, "has_relief_hole": true, "relief_hole": 4366}) with data.profile as profile
}

test_open_size_missing if {
	relief_hole_missing.subject.p1 with input as given({"has_check_valve": true, "has_relief_hole": true}) with data.profile as profile
	not relief_hole_missing.verdict.p1 with input as given({"has_check_valve": true, "has_relief_hole": true}) with data.profile as profile
}

test_open_table_missing if {
	relief_hole_missing.subject.p1 with input as given({"has_check_valve": true, "has_relief_hole": true, "relief_hole": 6350}) with data.profile as {}
	not relief_hole_missing.verdict.p1 with input as given({"has_check_valve": true, "has_relief_hole": true, "relief_hole": 6350}) with data.profile as {}
}

test_not_subject_no_check_valve if not relief_hole_missing.subject.p1 with input as given({"has_check_valve": false, "has_relief_hole": true}) with data.profile as profile

test_fail_no_hole_where_any_size_will_do if relief_hole_missing.verdict.p1.outcome == "fail" with input as given({"has_check_valve": true, "has_relief_hole": false}) with data.profile as {"pump": {"relief_hole_size": 1}}
