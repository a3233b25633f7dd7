package rules.basin.not_gas_tight_test

import data.rules.basin.not_gas_tight

given(facts) := {"basins": [object.union({"id": "s1"}, facts)]}

test_pass_as_wanted if not_gas_tight.verdict.s1.outcome == "pass" with input as given({"gas_tight": true})

test_fail_otherwise if not_gas_tight.verdict.s1.outcome == "fail" with input as given({"gas_tight": false})

test_open_fact_missing if {
	not_gas_tight.subject.s1 with input as given({})
	not not_gas_tight.verdict.s1 with input as given({})
}

test_not_subject_fixture if count(not_gas_tight.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
