package rules.discharge.check_valve_missing_test

import data.rules.discharge.check_valve_missing

given(facts) := {"discharges": [object.union({"id": "d1"}, facts)]}

test_pass_has_one if check_valve_missing.verdict.d1.outcome == "pass" with input as given({"has_check_valve": true})

test_fail_has_none if check_valve_missing.verdict.d1.outcome == "fail" with input as given({"has_check_valve": false})

test_open_fact_missing if {
	check_valve_missing.subject.d1 with input as given({})
	not check_valve_missing.verdict.d1 with input as given({})
}

test_not_subject_fixture if count(check_valve_missing.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
