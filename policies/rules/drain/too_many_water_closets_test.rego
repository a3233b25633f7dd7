package rules.drain.too_many_water_closets_test

import data.rules.drain.too_many_water_closets

profile := {"drain": {"max_water_closets": {"DN 80": 3, "DN 100": 9007199254740991}}}

given := {"id": "b1", "role": "branch", "lie": "horizontal", "size": "DN 80", "dn": 80, "slope": 20833, "fixtures": 2, "water_closets": 1}

test_pass_under_the_limit if outcome(given, profile) == "pass"

test_pass_without_limit if outcome(object.union(given, {"size": "DN 100", "water_closets": 40}), profile) == "pass"

test_fail_over_the_limit if outcome(object.union(given, {"water_closets": 6}), profile) == "fail"

test_boundary_at_the_limit if outcome(object.union(given, {"water_closets": 3}), profile) == "pass"

test_boundary_one_over if outcome(object.union(given, {"water_closets": 4}), profile) == "fail"

test_open_without_size if open(object.remove(given, ["size"]), profile)

test_open_without_table_entry if open(given, json.remove(profile, ["drain/max_water_closets/DN 80"]))

test_not_subject_too_small_for_any if not too_many_water_closets.subject.b1 with input as {"drains": [given]} with data.profile as {"drain": {"min_size_with_water_closet": 100, "max_water_closets": {"DN 80": 0}}}

test_not_subject_without_water_closet if not is_subject(object.union(given, {"water_closets": 0}))

outcome(d, p) := o if {
	o := too_many_water_closets.verdict[d.id].outcome with input as {"drains": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not too_many_water_closets.verdict[d.id] with input as {"drains": [d]} with data.profile as p
}

is_subject(d) if too_many_water_closets.subject[d.id] with input as {"drains": [d]}
