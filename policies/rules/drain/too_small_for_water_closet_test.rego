package rules.drain.too_small_for_water_closet_test

import data.rules.drain.too_small_for_water_closet

profile := {"drain": {"min_size_with_water_closet": 80}}

given := {"id": "b1", "role": "branch", "lie": "horizontal", "size": "DN 80", "dn": 100, "slope": 20833, "fixtures": 2, "water_closets": 1}

test_pass_when_larger if outcome(given, profile) == "pass"

test_fail_when_smaller if outcome(object.union(given, {"dn": 50}), profile) == "fail"

# 3 in: ICC plumbing code table 710.1(1), note, from memory.
test_boundary_at_the_size if outcome(object.union(given, {"dn": 80}), profile) == "pass"

test_boundary_one_size_below if outcome(object.union(given, {"dn": 65}), profile) == "fail"

test_open_without_size if open(object.remove(given, ["dn"]), profile)

test_open_without_table if open(given, json.remove(profile, ["drain/min_size_with_water_closet"]))

test_not_subject_without_water_closet if not is_subject(object.union(given, {"water_closets": 0}))

outcome(d, p) := o if {
	o := too_small_for_water_closet.verdict[d.id].outcome with input as {"drains": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not too_small_for_water_closet.verdict[d.id] with input as {"drains": [d]} with data.profile as p
}

is_subject(d) if too_small_for_water_closet.subject[d.id] with input as {"drains": [d]}
