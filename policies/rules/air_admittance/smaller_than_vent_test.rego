package rules.air_admittance.smaller_than_vent_test

import data.rules.air_admittance.smaller_than_vent

given(facts) := {"air_admittance_valves": [object.union({"id": "v1"}, facts)]}

test_pass_more if smaller_than_vent.verdict.v1.outcome == "pass" with input as given({"dn": 80, "vent_dn": 40})

test_fail_far_less if smaller_than_vent.verdict.v1.outcome == "fail" with input as given({"dn": 20, "vent_dn": 40})

test_boundary_equal if {
	smaller_than_vent.verdict.v1.outcome == "pass" with input as given({"dn": 40, "vent_dn": 40})
	smaller_than_vent.verdict.v1.outcome == "fail" with input as given({"dn": 32, "vent_dn": 40})
}

test_open_dn_missing if {
	smaller_than_vent.subject.v1 with input as given({"vent_dn": 40})
	not smaller_than_vent.verdict.v1 with input as given({"vent_dn": 40})
}

test_open_vent_dn_missing if {
	smaller_than_vent.subject.v1 with input as given({"dn": 40})
	not smaller_than_vent.verdict.v1 with input as given({"dn": 40})
}

test_not_subject_fixture if count(smaller_than_vent.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
