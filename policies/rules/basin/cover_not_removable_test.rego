package rules.basin.cover_not_removable_test

import data.rules.basin.cover_not_removable

given(facts) := {"basins": [object.union({"id": "s1"}, facts)]}

test_pass_as_wanted if cover_not_removable.verdict.s1.outcome == "pass" with input as given({"removable": true})

test_fail_otherwise if cover_not_removable.verdict.s1.outcome == "fail" with input as given({"removable": false})

test_open_fact_missing if {
	cover_not_removable.subject.s1 with input as given({})
	not cover_not_removable.verdict.s1 with input as given({})
}

test_not_subject_fixture if count(cover_not_removable.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
