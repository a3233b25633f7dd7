package rules.field.bedding_not_seen_test

import data.rules.field.bedding_not_seen

profile := {}

given := {"id": "project", "name": "Pottery studio", "has_basin": true, "has_pumped": true, "has_buried": true}

test_review if outcome(given, profile) == "review"

test_not_subject_when_there_is_none if not is_subject(object.union(given, {"has_buried": false}))

test_review_is_the_only_outcome if {
	every v in bedding_not_seen.verdict {
		v.outcome == "review"
	} with input as {"project": given}
	count(bedding_not_seen.verdict) == 1 with input as {"project": given}
}

outcome(d, p) := o if {
	o := bedding_not_seen.verdict[d.id].outcome with input as {"project": d} with data.profile as p
}

is_subject(d) if bedding_not_seen.subject[d.id] with input as {"project": d}
