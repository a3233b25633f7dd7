package rules.basin.not_needed_test

import data.rules.basin.not_needed

given(building, facts) := {"building": building, "basins": [object.union({"id": "s1"}, facts)]}

test_pass_none_could_fall if not_needed.verdict.s1.outcome == "pass" with input as given({}, {"fixtures_that_could_fall": 0})

test_pass_none_could_fall_in_existing_building if not_needed.verdict.s1.outcome == "pass" with input as given({"existing": true}, {"fixtures_that_could_fall": 0})

test_pass_existing_building if not_needed.verdict.s1.outcome == "pass" with input as given({"existing": true}, {"fixtures_that_could_fall": 2})

test_fail_new_building if not_needed.verdict.s1.outcome == "fail" with input as given({"existing": false}, {"fixtures_that_could_fall": 2})

test_boundary_at_none if {
	not_needed.verdict.s1.outcome == "pass" with input as given({"existing": false}, {"fixtures_that_could_fall": 0})
	not_needed.verdict.s1.outcome == "fail" with input as given({"existing": false}, {"fixtures_that_could_fall": 1})
}

test_open_elevations_missing if {
	not_needed.subject.s1 with input as given({"existing": false}, {})
	not not_needed.verdict.s1 with input as given({"existing": false}, {})
}

test_open_building_not_stated if {
	not_needed.subject.s1 with input as given({}, {"fixtures_that_could_fall": 1})
	not not_needed.verdict.s1 with input as given({}, {"fixtures_that_could_fall": 1})
}

test_not_subject_fixture if count(not_needed.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
