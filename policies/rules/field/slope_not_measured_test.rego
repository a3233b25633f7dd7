package rules.field.slope_not_measured_test

import data.rules.field.slope_not_measured

profile := {}

given := {"id": "project", "name": "Pottery studio", "has_basin": true, "has_pumped": true, "has_buried": true}

test_review if outcome(given, profile) == "review"

test_not_subject_without_project if count(slope_not_measured.subject) == 0 with input as {}

test_review_is_the_only_outcome if {
	every v in slope_not_measured.verdict {
		v.outcome == "review"
	} with input as {"project": given}
	count(slope_not_measured.verdict) == 1 with input as {"project": given}
}

outcome(d, p) := o if {
	o := slope_not_measured.verdict[d.id].outcome with input as {"project": d} with data.profile as p
}
