package rules.discharge.opening_too_small_test

import data.rules.discharge.opening_too_small

# 1-1/4 in for a grinder, 3/4 in for a macerating unit of one water closet: New York City plumbing
# code 712.4.1, as read in a stored copy.
profile := {"discharge": {"min_opening_grinder": 31750, "min_opening_macerating": 19050}}

given(facts) := {"discharges": [object.union({"id": "d1"}, facts)]}

test_pass_grinder if opening_too_small.verdict.d1.outcome == "pass" with input as given({"water_closets": 1, "pump_kind": "grinder", "opening": 50800}) with data.profile as profile

test_fail_grinder if opening_too_small.verdict.d1.outcome == "fail" with input as given({"water_closets": 1, "pump_kind": "grinder", "opening": 25400}) with data.profile as profile

test_boundary_grinder_at_one_and_a_quarter if {
	opening_too_small.verdict.d1.outcome == "pass" with input as given({"water_closets": 1, "pump_kind": "grinder", "opening": 31750}) with data.profile as profile
	opening_too_small.verdict.d1.outcome == "fail" with input as given({"water_closets": 1, "pump_kind": "grinder", "opening": 31353}) with data.profile as profile
}

test_boundary_macerating_at_three_quarters if {
	opening_too_small.verdict.d1.outcome == "pass" with input as given({"water_closets": 1, "pump_kind": "macerating", "opening": 19050}) with data.profile as profile
	opening_too_small.verdict.d1.outcome == "fail" with input as given({"water_closets": 1, "pump_kind": "macerating", "opening": 18653}) with data.profile as profile
}

test_review_macerating_two_closets if opening_too_small.verdict.d1.outcome == "review" with input as given({"water_closets": 2, "pump_kind": "macerating", "opening": 25400}) with data.profile as profile

test_open_opening_missing if {
	opening_too_small.subject.d1 with input as given({"water_closets": 1, "pump_kind": "grinder"}) with data.profile as profile
	not opening_too_small.verdict.d1 with input as given({"water_closets": 1, "pump_kind": "grinder"}) with data.profile as profile
}

test_open_kind_missing if {
	opening_too_small.subject.d1 with input as given({"water_closets": 1, "opening": 31750}) with data.profile as profile
	not opening_too_small.verdict.d1 with input as given({"water_closets": 1, "opening": 31750}) with data.profile as profile
}

test_open_table_missing if {
	opening_too_small.subject.d1 with input as given({"water_closets": 1, "pump_kind": "grinder", "opening": 50800}) with data.profile as {}
	not opening_too_small.verdict.d1 with input as given({"water_closets": 1, "pump_kind": "grinder", "opening": 50800}) with data.profile as {}
}

test_not_subject_solids_handling if not opening_too_small.subject.d1 with input as given({"water_closets": 1, "pump_kind": "solids_handling", "opening": 50800}) with data.profile as profile

test_not_subject_effluent if not opening_too_small.subject.d1 with input as given({"water_closets": 1, "pump_kind": "effluent", "opening": 50800}) with data.profile as profile

test_pass_grinder_two_closets if opening_too_small.verdict.d1.outcome == "pass" with input as given({"water_closets": 2, "pump_kind": "grinder", "opening": 50800}) with data.profile as profile
