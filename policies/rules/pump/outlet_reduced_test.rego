package rules.pump.outlet_reduced_test

import data.rules.pump.outlet_reduced

given(facts) := {"pumps": [object.union({"id": "p1"}, facts)]}

test_pass_more if outlet_reduced.verdict.p1.outcome == "pass" with input as given({"discharge_dn": 100, "outlet_dn": 50})

test_fail_far_less if outlet_reduced.verdict.p1.outcome == "fail" with input as given({"discharge_dn": 25, "outlet_dn": 50})

test_boundary_equal if {
	outlet_reduced.verdict.p1.outcome == "pass" with input as given({"discharge_dn": 50, "outlet_dn": 50})
	outlet_reduced.verdict.p1.outcome == "fail" with input as given({"discharge_dn": 40, "outlet_dn": 50})
}

test_open_discharge_dn_missing if {
	outlet_reduced.subject.p1 with input as given({"outlet_dn": 50})
	not outlet_reduced.verdict.p1 with input as given({"outlet_dn": 50})
}

test_open_outlet_dn_missing if {
	outlet_reduced.subject.p1 with input as given({"discharge_dn": 50})
	not outlet_reduced.verdict.p1 with input as given({"discharge_dn": 50})
}

test_not_subject_fixture if count(outlet_reduced.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
