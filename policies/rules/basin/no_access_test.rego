package rules.basin.no_access_test

import data.rules.basin.no_access

given(facts) := {"basins": [object.union({"id": "s1"}, facts)]}

test_pass_as_wanted if no_access.verdict.s1.outcome == "pass" with input as given({"accessible": true})

test_fail_otherwise if no_access.verdict.s1.outcome == "fail" with input as given({"accessible": false})

test_open_fact_missing if {
	no_access.subject.s1 with input as given({})
	not no_access.verdict.s1 with input as given({})
}

test_not_subject_fixture if count(no_access.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
