package rules.discharge.check_valve_shared_test

import data.rules.discharge.check_valve_shared

given(facts) := {"discharges": [object.union({"id": "d1"}, facts)]}

test_pass_has_its_own if check_valve_shared.verdict.d1.outcome == "pass" with input as given({"has_check_valve": true, "own_check_valve": true})

test_fail_shares_one if check_valve_shared.verdict.d1.outcome == "fail" with input as given({"has_check_valve": true, "own_check_valve": false})

test_pass_has_none_at_all if check_valve_shared.verdict.d1.outcome == "pass" with input as given({"has_check_valve": false, "own_check_valve": false})

test_open_fact_missing if {
	check_valve_shared.subject.d1 with input as given({"has_check_valve": true})
	not check_valve_shared.verdict.d1 with input as given({"has_check_valve": true})
}

test_not_subject_fixture if count(check_valve_shared.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
