package rules.field.fixtures_not_run_together_test

import data.rules.field.fixtures_not_run_together

profile := {}

given := {"id": "project", "name": "Pottery studio", "has_basin": true, "has_pumped": true, "has_buried": true}

test_review if outcome(given, profile) == "review"

test_not_subject_without_project if count(fixtures_not_run_together.subject) == 0 with input as {}

test_review_is_the_only_outcome if {
	every v in fixtures_not_run_together.verdict {
		v.outcome == "review"
	} with input as {"project": given}
	count(fixtures_not_run_together.verdict) == 1 with input as {"project": given}
}

outcome(d, p) := o if {
	o := fixtures_not_run_together.verdict[d.id].outcome with input as {"project": d} with data.profile as p
}
