package rules.field.not_water_tested_test

import data.rules.field.not_water_tested

profile := {}

given := {"id": "project", "name": "Pottery studio", "has_basin": true, "has_pumped": true, "has_buried": true}

test_review if outcome(given, profile) == "review"

test_not_subject_without_project if count(not_water_tested.subject) == 0 with input as {}

test_review_is_the_only_outcome if {
	every v in not_water_tested.verdict {
		v.outcome == "review"
	} with input as {"project": given}
	count(not_water_tested.verdict) == 1 with input as {"project": given}
}

outcome(d, p) := o if {
	o := not_water_tested.verdict[d.id].outcome with input as {"project": d} with data.profile as p
}
