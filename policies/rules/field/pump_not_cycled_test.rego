package rules.field.pump_not_cycled_test

import data.rules.field.pump_not_cycled

profile := {}

given := {"id": "project", "name": "Pottery studio", "has_basin": true, "has_pumped": true, "has_buried": true}

test_review if outcome(given, profile) == "review"

test_not_subject_when_there_is_none if not is_subject(object.union(given, {"has_basin": false}))

test_review_is_the_only_outcome if {
	every v in pump_not_cycled.verdict {
		v.outcome == "review"
	} with input as {"project": given}
	count(pump_not_cycled.verdict) == 1 with input as {"project": given}
}

outcome(d, p) := o if {
	o := pump_not_cycled.verdict[d.id].outcome with input as {"project": d} with data.profile as p
}

is_subject(d) if pump_not_cycled.subject[d.id] with input as {"project": d}
