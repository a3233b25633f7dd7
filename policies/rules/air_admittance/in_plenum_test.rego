package rules.air_admittance.in_plenum_test

import data.rules.air_admittance.in_plenum

given(facts) := {"air_admittance_valves": [object.union({"id": "v1"}, facts)]}

test_pass_as_wanted if in_plenum.verdict.v1.outcome == "pass" with input as given({"in_plenum": false})

test_fail_otherwise if in_plenum.verdict.v1.outcome == "fail" with input as given({"in_plenum": true})

test_open_fact_missing if {
	in_plenum.subject.v1 with input as given({})
	not in_plenum.verdict.v1 with input as given({})
}

test_not_subject_fixture if count(in_plenum.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
