package rules.basin.inlet_mismatch_test

import data.rules.basin.inlet_mismatch

given(facts) := {"basins": [object.union({"id": "s1"}, facts)]}

test_pass_arrives_above if inlet_mismatch.verdict.s1.outcome == "pass" with input as given({"drain_height": 25400})

test_fail_arrives_below if inlet_mismatch.verdict.s1.outcome == "fail" with input as given({"drain_height": -76200})

test_boundary_at_the_invert if {
	inlet_mismatch.verdict.s1.outcome == "pass" with input as given({"drain_height": 0})
	inlet_mismatch.verdict.s1.outcome == "fail" with input as given({"drain_height": -397})
}

test_open_invert_missing if {
	inlet_mismatch.subject.s1 with input as given({})
	not inlet_mismatch.verdict.s1 with input as given({})
}

test_not_subject_fixture if count(inlet_mismatch.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
