package rules.basin.not_fastened_test

import data.rules.basin.not_fastened

given(facts) := {"basins": [object.union({"id": "s1"}, facts)]}

test_pass_as_wanted if not_fastened.verdict.s1.outcome == "pass" with input as given({"fastened": true})

test_fail_otherwise if not_fastened.verdict.s1.outcome == "fail" with input as given({"fastened": false})

test_open_fact_missing if {
	not_fastened.subject.s1 with input as given({})
	not not_fastened.verdict.s1 with input as given({})
}

test_not_subject_fixture if count(not_fastened.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
