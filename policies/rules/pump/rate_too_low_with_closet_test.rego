package rules.pump.rate_too_low_with_closet_test

import data.lib.exact_test.exact
import data.rules.pump.rate_too_low_with_closet

# 20 gpm: IAPMO plumbing code 710.3, as read in a commentary.
profile := {"pump": {"min_rate_with_closet": 1262}}

given(facts) := {"pumps": [object.union({"id": "p1"}, exact(facts, ["rate"]))]}

test_pass_well_inside if rate_too_low_with_closet.verdict.p1.outcome == "pass" with input as given({"water_closets": 1, "urinals": 0, "rate": 2524}) with data.profile as profile

test_fail_well_outside if rate_too_low_with_closet.verdict.p1.outcome == "fail" with input as given({"water_closets": 1, "urinals": 0, "rate": 631}) with data.profile as profile

test_boundary_at_the_limit if {
	rate_too_low_with_closet.verdict.p1.outcome == "pass" with input as given({"water_closets": 1, "urinals": 0, "rate": 1262}) with data.profile as profile
	rate_too_low_with_closet.verdict.p1.outcome == "fail" with input as given({"water_closets": 1, "urinals": 0, "rate": 1261}) with data.profile as profile
}

test_open_fact_missing if {
	rate_too_low_with_closet.subject.p1 with input as given({"water_closets": 1, "urinals": 0}) with data.profile as profile
	not rate_too_low_with_closet.verdict.p1 with input as given({"water_closets": 1, "urinals": 0}) with data.profile as profile
}

test_open_table_missing if {
	rate_too_low_with_closet.subject.p1 with input as given({"water_closets": 1, "urinals": 0, "rate": 2524}) with data.profile as {}
	not rate_too_low_with_closet.verdict.p1 with input as given({"water_closets": 1, "urinals": 0, "rate": 2524}) with data.profile as {}
}

test_pass_urinal_only if rate_too_low_with_closet.verdict.p1.outcome == "pass" with input as given({"water_closets": 0, "urinals": 1, "rate": 2524}) with data.profile as profile

test_not_subject_sinks_only if not rate_too_low_with_closet.subject.p1 with input as given({"water_closets": 0, "urinals": 0, "rate": 2524}) with data.profile as profile

test_review_low_end_falls_short if rate_too_low_with_closet.verdict.p1.outcome == "review" with input as given({"water_closets": 1, "urinals": 0, "rate": 2145, "rate_low": 1199}) with data.profile as profile

test_pass_closet_and_urinal if rate_too_low_with_closet.verdict.p1.outcome == "pass" with input as given({"water_closets": 1, "urinals": 1, "rate": 2524}) with data.profile as profile
