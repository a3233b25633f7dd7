package rules.drain.too_many_water_closets_by_lie_test

import data.rules.drain.too_many_water_closets_by_lie

# 3 in: three closets lying, four standing, IAPMO plumbing code table 703.2 as a handout of King County has it.
profile := {"drain": {"max_water_closets_by_lie": {"DN 80": {"horizontal": 3, "vertical": 4}}}}

given := {"id": "d1", "size": "DN 80", "lie": "horizontal", "water_closets": 1}

test_pass_one if outcome(given, profile) == "pass"

test_fail_six if outcome(object.union(given, {"water_closets": 6}), profile) == "fail"

test_boundary_three_lying if outcome(object.union(given, {"water_closets": 3}), profile) == "pass"

test_boundary_four_lying if outcome(object.union(given, {"water_closets": 4}), profile) == "fail"

test_boundary_four_standing if outcome(object.union(given, {"water_closets": 4, "lie": "vertical"}), profile) == "pass"

test_boundary_five_standing if outcome(object.union(given, {"water_closets": 5, "lie": "vertical"}), profile) == "fail"

test_pass_four_at_45_degrees if outcome(object.union(given, {"water_closets": 4, "lie": "sloped_45"}), profile) == "pass"

test_open_without_lie if open(object.remove(given, ["lie"]), profile)

test_open_without_size if open(object.remove(given, ["size"]), profile)

test_open_without_entry if open(object.union(given, {"size": "DN 150"}), profile)

test_not_subject_too_small_for_any if not too_many_water_closets_by_lie.subject.d1 with input as {"drains": [object.union(given, {"dn": 50, "size": "DN 50"})]} with data.profile as {"drain": {"min_size_with_water_closet": 80}}

test_not_subject_without_closets if not is_subject(object.union(given, {"water_closets": 0}))

outcome(d, p) := o if {
	o := too_many_water_closets_by_lie.verdict[d.id].outcome with input as {"drains": [d]} with data.profile as p
}

open(d, p) if {
	too_many_water_closets_by_lie.subject[d.id] with input as {"drains": [d]} with data.profile as p
	not too_many_water_closets_by_lie.verdict[d.id] with input as {"drains": [d]} with data.profile as p
}

is_subject(d) if too_many_water_closets_by_lie.subject[d.id] with input as {"drains": [d]} with data.profile as profile
