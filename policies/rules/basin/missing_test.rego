package rules.basin.missing_test

import data.rules.basin.missing

given(facts) := {"building": object.union({"id": "building"}, facts)}

test_pass_none if missing.verdict.building.outcome == "pass" with input as given({"fixtures_that_cannot_fall": 0})

test_fail_three if missing.verdict.building.outcome == "fail" with input as given({"fixtures_that_cannot_fall": 3})

test_boundary_at_none if {
	missing.verdict.building.outcome == "pass" with input as given({"fixtures_that_cannot_fall": 0})
	missing.verdict.building.outcome == "fail" with input as given({"fixtures_that_cannot_fall": 1})
}

test_open_elevations_missing if {
	missing.subject.building with input as given({})
	not missing.verdict.building with input as given({})
}

test_not_subject_without_its_id if count(missing.subject) == 0 with input as {"building": {}}
