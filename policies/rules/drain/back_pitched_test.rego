package rules.drain.back_pitched_test

import data.rules.drain.back_pitched

profile := {}

given := {"id": "b1", "role": "branch", "lie": "horizontal", "size": "DN 80", "dn": 80, "slope": 20833, "fixtures": 2, "water_closets": 1}

test_pass_when_it_falls if outcome(given, profile) == "pass"

test_fail_when_it_rises if outcome(object.union(given, {"slope": -10417}), profile) == "fail"

test_boundary_the_least_fall if outcome(object.union(given, {"slope": 1}), profile) == "pass"

test_boundary_level if outcome(object.union(given, {"slope": 0}), profile) == "fail"

test_open_without_slope if open(object.remove(given, ["slope"]), profile)

test_unknown_lie_is_a_subject if is_subject(object.remove(given, ["lie"]))

test_not_subject_when_vertical if not is_subject(object.union(given, {"lie": "vertical"}))

test_not_subject_at_45_degrees if not is_subject(object.union(given, {"lie": "sloped_45"}))

outcome(d, p) := o if {
	o := back_pitched.verdict[d.id].outcome with input as {"drains": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not back_pitched.verdict[d.id] with input as {"drains": [d]} with data.profile as p
}

is_subject(d) if back_pitched.subject[d.id] with input as {"drains": [d]}
