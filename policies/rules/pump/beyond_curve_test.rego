package rules.pump.beyond_curve_test

import data.rules.pump.beyond_curve

given(facts) := {"pumps": [object.union({"id": "p1"}, facts)]}

test_pass_as_wanted if beyond_curve.verdict.p1.outcome == "pass" with input as given({"beyond_curve": false, "may_exceed_curve": false})

test_fail_otherwise if beyond_curve.verdict.p1.outcome == "fail" with input as given({"beyond_curve": true, "may_exceed_curve": true})

test_open_fact_missing if {
	beyond_curve.subject.p1 with input as given({})
	not beyond_curve.verdict.p1 with input as given({})
}

test_not_subject_fixture if count(beyond_curve.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}

test_review_at_the_end_of_its_range if beyond_curve.verdict.p1.outcome == "review" with input as given({"beyond_curve": false, "may_exceed_curve": true})
