package rules.air_admittance.no_access_test

import data.rules.air_admittance.no_access

given(facts) := {"air_admittance_valves": [object.union({"id": "v1"}, facts)]}

test_pass_both if no_access.verdict.v1.outcome == "pass" with input as given({"accessible": true, "air_can_enter": true})

test_fail_walled_in if no_access.verdict.v1.outcome == "fail" with input as given({"accessible": false, "air_can_enter": true})

test_fail_closed_space if no_access.verdict.v1.outcome == "fail" with input as given({"accessible": true, "air_can_enter": false})

test_fail_one_fault_is_enough if no_access.verdict.v1.outcome == "fail" with input as given({"air_can_enter": false})

test_fail_both_faults if no_access.verdict.v1.outcome == "fail" with input as given({"accessible": false, "air_can_enter": false})

test_open_access_missing if {
	no_access.subject.v1 with input as given({"air_can_enter": true})
	not no_access.verdict.v1 with input as given({"air_can_enter": true})
}

test_open_air_missing if {
	no_access.subject.v1 with input as given({"accessible": true})
	not no_access.verdict.v1 with input as given({"accessible": true})
}

test_not_subject_fixture if count(no_access.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
