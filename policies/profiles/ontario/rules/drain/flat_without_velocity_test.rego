package rules.drain.flat_without_velocity_test

import data.rules.drain.flat_without_velocity

# 1 in 50 up to 3 in, or 0.6 m/s where that is not possible: Ontario building code 7.4.8.1., as read in a reprint.
profile := {"drain": {"min_slope": {"DN 80": 20000}, "flat_min_velocity": 600}}

given := {"id": "d1", "lie": "horizontal", "size": "DN 80", "slope": 30000, "velocity": 500}

test_pass_steeper if outcome(given, profile) == "pass"

test_pass_without_velocity if outcome(object.remove(given, ["velocity"]), profile) == "pass"

test_fail_flat_and_slow if outcome(object.union(given, {"slope": 10000}), profile) == "fail"

test_review_flat_and_fast if outcome(object.union(given, {"slope": 10000, "velocity": 700}), profile) == "review"

test_boundary_slope if outcome(object.union(given, {"slope": 20000}), profile) == "pass"

test_boundary_slope_under if outcome(object.union(given, {"slope": 19990}), profile) == "fail"

test_review_at_the_velocity if outcome(object.union(given, {"slope": 10000, "velocity": 600}), profile) == "review"

test_boundary_velocity_under if outcome(object.union(given, {"slope": 10000, "velocity": 599}), profile) == "fail"

test_fail_flat_of_unknown_velocity if outcome(object.remove(object.union(given, {"slope": 10000}), ["velocity"]), profile) == "fail"

test_open_without_slope if open(object.remove(given, ["slope"]), profile)

test_open_without_entry if open(object.union(given, {"size": "DN 300"}), profile)

test_not_subject_vertical if not is_subject(object.union(given, {"lie": "vertical"}))

test_not_subject_at_45_degrees if not is_subject(object.union(given, {"lie": "sloped_45"}))

test_not_subject_back_pitched if not is_subject(object.union(given, {"slope": -10000}))

test_not_subject_when_level if not is_subject(object.union(given, {"slope": 0}))

test_subject_when_it_falls_at_all if is_subject(object.union(given, {"slope": 1}))

test_pass_steep_and_fast if outcome(object.union(given, {"velocity": 700}), profile) == "pass"

outcome(d, p) := o if {
	o := flat_without_velocity.verdict[d.id].outcome with input as {"drains": [d]} with data.profile as p
}

open(d, p) if {
	flat_without_velocity.subject[d.id] with input as {"drains": [d]} with data.profile as p
	not flat_without_velocity.verdict[d.id] with input as {"drains": [d]} with data.profile as p
}

is_subject(d) if flat_without_velocity.subject[d.id] with input as {"drains": [d]} with data.profile as profile
