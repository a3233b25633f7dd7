package rules.pump.runs_too_short_test

import data.lib.exact_test.exact
import data.rules.pump.runs_too_short

# 15 s: common practice.
profile := {"pump": {"min_run_time": 15000}}

given(facts) := {"pumps": [object.union({"id": "p1"}, exact(facts, ["run_time"]))]}

test_pass_well_inside if runs_too_short.verdict.p1.outcome == "pass" with input as given({"run_time": 30000}) with data.profile as profile

test_fail_well_outside if runs_too_short.verdict.p1.outcome == "fail" with input as given({"run_time": 7500}) with data.profile as profile

test_boundary_at_the_limit if {
	runs_too_short.verdict.p1.outcome == "pass" with input as given({"run_time": 15000}) with data.profile as profile
	runs_too_short.verdict.p1.outcome == "fail" with input as given({"run_time": 14900}) with data.profile as profile
}

test_open_fact_missing if {
	runs_too_short.subject.p1 with input as given({}) with data.profile as profile
	not runs_too_short.verdict.p1 with input as given({}) with data.profile as profile
}

test_open_table_missing if {
	runs_too_short.subject.p1 with input as given({"run_time": 30000}) with data.profile as {}
	not runs_too_short.verdict.p1 with input as given({"run_time": 30000}) with data.profile as {}
}

test_not_subject_fixture if count(runs_too_short.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}

test_review_low_end_is_shorter if runs_too_short.verdict.p1.outcome == "review" with input as given({"run_time": 16000, "run_time_low": 14000}) with data.profile as profile
