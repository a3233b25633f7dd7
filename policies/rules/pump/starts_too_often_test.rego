package rules.pump.starts_too_often_test

import data.lib.exact_test.exact
import data.rules.pump.starts_too_often

# 10 an hour: common practice.
profile := {"pump": {"max_starts_per_hour": 10000}}

given(facts) := {"pumps": [object.union({"id": "p1"}, exact(facts, ["starts_per_hour"]))]}

test_pass_seldom if starts_too_often.verdict.p1.outcome == "pass" with input as given({"starts_per_hour": 4000}) with data.profile as profile

test_fail_often if starts_too_often.verdict.p1.outcome == "fail" with input as given({"starts_per_hour": 30000}) with data.profile as profile

test_pass_motor_allows_more if starts_too_often.verdict.p1.outcome == "pass" with input as given({"starts_per_hour": 18000, "max_starts_per_hour": 20000}) with data.profile as profile

test_fail_motor_allows_less if starts_too_often.verdict.p1.outcome == "fail" with input as given({"starts_per_hour": 8000, "max_starts_per_hour": 6000}) with data.profile as profile

test_pass_stated_needs_no_table if starts_too_often.verdict.p1.outcome == "pass" with input as given({"starts_per_hour": 8000, "max_starts_per_hour": 20000}) with data.profile as {}

test_boundary_at_the_usual if {
	starts_too_often.verdict.p1.outcome == "pass" with input as given({"starts_per_hour": 10000}) with data.profile as profile
	starts_too_often.verdict.p1.outcome == "fail" with input as given({"starts_per_hour": 10100}) with data.profile as profile
}

test_open_starts_missing if {
	starts_too_often.subject.p1 with input as given({}) with data.profile as profile
	not starts_too_often.verdict.p1 with input as given({}) with data.profile as profile
}

test_open_table_missing if {
	starts_too_often.subject.p1 with input as given({"starts_per_hour": 4000}) with data.profile as {}
	not starts_too_often.verdict.p1 with input as given({"starts_per_hour": 4000}) with data.profile as {}
}

test_not_subject_fixture if count(starts_too_often.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}

test_review_high_end_starts_more_often if starts_too_often.verdict.p1.outcome == "review" with input as given({"starts_per_hour": 9000, "starts_per_hour_high": 11000}) with data.profile as profile
