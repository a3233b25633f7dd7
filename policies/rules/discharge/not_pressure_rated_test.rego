package rules.discharge.not_pressure_rated_test

import data.rules.discharge.not_pressure_rated

given(facts) := {"discharges": [object.union({"id": "d1"}, facts)]}

test_pass_as_wanted if not_pressure_rated.verdict.d1.outcome == "pass" with input as given({"pressure_rated": true})

test_fail_otherwise if not_pressure_rated.verdict.d1.outcome == "fail" with input as given({"pressure_rated": false})

test_open_fact_missing if {
	not_pressure_rated.subject.d1 with input as given({})
	not not_pressure_rated.verdict.d1 with input as given({})
}

test_not_subject_fixture if count(not_pressure_rated.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
