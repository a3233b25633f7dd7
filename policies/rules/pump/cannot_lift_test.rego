package rules.pump.cannot_lift_test

import data.rules.pump.cannot_lift

given(facts) := {"pumps": [object.union({"id": "p1"}, facts)]}

test_pass_as_wanted if cannot_lift.verdict.p1.outcome == "pass" with input as given({"cannot_lift": false, "may_not_lift": false})

test_fail_otherwise if cannot_lift.verdict.p1.outcome == "fail" with input as given({"cannot_lift": true, "may_not_lift": true})

test_open_fact_missing if {
	cannot_lift.subject.p1 with input as given({})
	not cannot_lift.verdict.p1 with input as given({})
}

test_not_subject_fixture if count(cannot_lift.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}

test_review_at_the_end_of_its_range if cannot_lift.verdict.p1.outcome == "review" with input as given({"cannot_lift": false, "may_not_lift": true})
