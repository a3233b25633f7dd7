package rules.air_admittance.not_accepted_test

import data.rules.air_admittance.not_accepted

profile := {"air_admittance": {"accepted": true}}

given(facts) := {"air_admittance_valves": [object.union({"id": "v1"}, facts)]}

test_pass_accepted if not_accepted.verdict.v1.outcome == "pass" with input as given({}) with data.profile as profile

test_fail_not_accepted if not_accepted.verdict.v1.outcome == "fail" with input as given({}) with data.profile as {"air_admittance": {"accepted": false}}

test_review_with_approval if not_accepted.verdict.v1.outcome == "review" with input as given({}) with data.profile as {"air_admittance": {"accepted": "with_approval"}}

test_open_table_missing if {
	not_accepted.subject.v1 with input as given({}) with data.profile as {}
	not not_accepted.verdict.v1 with input as given({}) with data.profile as {}
}

test_not_subject_fixture if count(not_accepted.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
