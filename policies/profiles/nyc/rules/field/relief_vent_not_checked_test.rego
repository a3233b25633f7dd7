package rules.field.relief_vent_not_checked_test

import data.rules.field.relief_vent_not_checked

# Four closets: New York City plumbing code 914.4, as read in a stored copy.
profile := {"circuit_vent": {"relief_from_closets": 4}}

given := {"id": "w1", "kind": "circuit", "water_closets_upstream": 4}

test_review_four_closets if outcome(given, profile) == "review"

test_not_subject_three_closets if not is_subject(object.union(given, {"water_closets_upstream": 3}))

test_not_subject_wet_vent if not is_subject(object.union(given, {"kind": "wet"}))

outcome(d, p) := o if {
	o := relief_vent_not_checked.verdict[d.id].outcome with input as {"wet_vents": [d]} with data.profile as p
}

is_subject(d) if relief_vent_not_checked.subject[d.id] with input as {"wet_vents": [d]} with data.profile as profile
