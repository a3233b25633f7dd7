package rules.field.offset_vent_not_checked_test

import data.rules.field.offset_vent_not_checked

# Five intervals: New York City plumbing code 907.1, as read in a stored copy.
profile := {"vent": {"offset_from_intervals": 5}}

given := {"id": "d1", "role": "stack", "branch_intervals": 5}

test_review_five_intervals if outcome(given, profile) == "review"

test_review_height_not_stated if outcome(object.remove(given, ["branch_intervals"]), profile) == "review"

test_not_subject_four_intervals if not is_subject(object.union(given, {"branch_intervals": 4}))

test_not_subject_branch if not is_subject(object.union(given, {"role": "branch"}))

test_not_subject_in_a_low_building if count(offset_vent_not_checked.subject) == 0 with input as {"building": {"storeys": 4}, "drains": [given]} with data.profile as profile

test_review_in_a_building_just_high_enough if offset_vent_not_checked.verdict.d1.outcome == "review" with input as {"building": {"storeys": 5}, "drains": [object.remove(given, ["branch_intervals"])]} with data.profile as profile

outcome(d, p) := o if {
	o := offset_vent_not_checked.verdict[d.id].outcome with input as {"drains": [d]} with data.profile as p
}

is_subject(d) if offset_vent_not_checked.subject[d.id] with input as {"drains": [d]} with data.profile as profile
