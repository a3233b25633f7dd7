package rules.pump.rate_below_inflow_test

import data.rules.pump.rate_below_inflow

given(facts) := {"pumps": [object.union({"id": "p1"}, facts)]}

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
