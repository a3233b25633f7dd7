package rules.pump.rate_below_inflow_test

import data.lib.exact_test.exact
import data.rules.pump.rate_below_inflow

given(facts) := {"pumps": [object.union({"id": "p1"}, exact(facts, ["rate"]))]}

test_pass_more if rate_below_inflow.verdict.p1.outcome == "pass" with input as given({"rate": 3000, "peak_inflow": 1500})

test_fail_far_less if rate_below_inflow.verdict.p1.outcome == "fail" with input as given({"rate": 750, "peak_inflow": 1500})

test_boundary_equal if {
	rate_below_inflow.verdict.p1.outcome == "pass" with input as given({"rate": 1500, "peak_inflow": 1500})
	rate_below_inflow.verdict.p1.outcome == "fail" with input as given({"rate": 1499, "peak_inflow": 1500})
}

test_open_rate_missing if {
	rate_below_inflow.subject.p1 with input as given({"peak_inflow": 1500})
	not rate_below_inflow.verdict.p1 with input as given({"peak_inflow": 1500})
}

test_open_peak_inflow_missing if {
	rate_below_inflow.subject.p1 with input as given({"rate": 1500})
	not rate_below_inflow.verdict.p1 with input as given({"rate": 1500})
}

test_not_subject_fixture if count(rate_below_inflow.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}

test_review_low_end_falls_short if rate_below_inflow.verdict.p1.outcome == "review" with input as given({"rate": 1600, "rate_low": 1400, "peak_inflow": 1500})

test_fail_though_the_high_end_keeps_up if rate_below_inflow.verdict.p1.outcome == "fail" with input as given({"rate": 1400, "rate_high": 1600, "peak_inflow": 1500})
