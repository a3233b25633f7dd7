package rules.discharge.velocity_out_of_range_test

import data.lib.exact_test.exact
import data.rules.discharge.velocity_out_of_range

# 2 ft/s and 8 ft/s: common practice.
profile := {"discharge": {"min_velocity": 610, "max_velocity": 2438}}

given(facts) := {"discharges": [object.union({"id": "d1"}, exact(facts, ["velocity"]))]}

test_pass_middle if velocity_out_of_range.verdict.d1.outcome == "pass" with input as given({"velocity": 1200}) with data.profile as profile

test_fail_slow if velocity_out_of_range.verdict.d1.outcome == "fail" with input as given({"velocity": 300}) with data.profile as profile

test_fail_fast if velocity_out_of_range.verdict.d1.outcome == "fail" with input as given({"velocity": 4000}) with data.profile as profile

test_boundary_at_two_feet_a_second if {
	velocity_out_of_range.verdict.d1.outcome == "pass" with input as given({"velocity": 610}) with data.profile as profile
	velocity_out_of_range.verdict.d1.outcome == "fail" with input as given({"velocity": 609}) with data.profile as profile
}

test_boundary_at_eight_feet_a_second if {
	velocity_out_of_range.verdict.d1.outcome == "pass" with input as given({"velocity": 2438}) with data.profile as profile
	velocity_out_of_range.verdict.d1.outcome == "fail" with input as given({"velocity": 2439}) with data.profile as profile
}

test_open_velocity_missing if {
	velocity_out_of_range.subject.d1 with input as given({}) with data.profile as profile
	not velocity_out_of_range.verdict.d1 with input as given({}) with data.profile as profile
}

test_open_table_missing if {
	velocity_out_of_range.subject.d1 with input as given({"velocity": 1200}) with data.profile as {"discharge": {"min_velocity": 610}}
	not velocity_out_of_range.verdict.d1 with input as given({"velocity": 1200}) with data.profile as {"discharge": {"min_velocity": 610}}
}

test_not_subject_fixture if count(velocity_out_of_range.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}

test_review_low_end_is_too_slow if velocity_out_of_range.verdict.d1.outcome == "review" with input as given({"velocity": 700, "velocity_low": 500}) with data.profile as profile

test_review_high_end_is_too_fast if velocity_out_of_range.verdict.d1.outcome == "review" with input as given({"velocity": 2300, "velocity_high": 2600}) with data.profile as profile
