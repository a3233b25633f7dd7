package rules.basin.inlet_undersized_test

import data.rules.basin.inlet_undersized

given(facts) := {"basins": [object.union({"id": "s1"}, facts)]}

test_pass_more if inlet_undersized.verdict.s1.outcome == "pass" with input as given({"inlet_dn": 160, "largest_drain_dn": 80})

test_fail_far_less if inlet_undersized.verdict.s1.outcome == "fail" with input as given({"inlet_dn": 40, "largest_drain_dn": 80})

test_boundary_equal if {
	inlet_undersized.verdict.s1.outcome == "pass" with input as given({"inlet_dn": 80, "largest_drain_dn": 80})
	inlet_undersized.verdict.s1.outcome == "fail" with input as given({"inlet_dn": 65, "largest_drain_dn": 80})
}

test_open_inlet_dn_missing if {
	inlet_undersized.subject.s1 with input as given({"largest_drain_dn": 80})
	not inlet_undersized.verdict.s1 with input as given({"largest_drain_dn": 80})
}

test_open_largest_drain_dn_missing if {
	inlet_undersized.subject.s1 with input as given({"inlet_dn": 80})
	not inlet_undersized.verdict.s1 with input as given({"inlet_dn": 80})
}

test_not_subject_fixture if count(inlet_undersized.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
