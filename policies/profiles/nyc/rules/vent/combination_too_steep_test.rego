package rules.vent.combination_too_steep_test

import data.rules.vent.combination_too_steep

# 1/2 in/ft: New York City plumbing code 915.2.1, as read in a stored copy.
profile := {"combination_vent": {"max_slope": 41667}}

more := {"wet_vents": [{"id": "d1", "kind": "combination"}]}

given := {"id": "d1", "lie": "horizontal", "slope": 20833}

test_pass_flatter if outcome(given, profile) == "pass"

test_fail_steeper if outcome(object.union(given, {"slope": 83333}), profile) == "fail"

test_boundary_at_the_limit if outcome(object.union(given, {"slope": 41667}), profile) == "pass"

test_boundary_a_64th_in_a_foot_beyond if outcome(object.union(given, {"slope": 42969}), profile) == "fail"

test_open_without_slope if open(object.remove(given, ["slope"]), profile)

test_open_without_table if open(given, {})

test_not_subject_vertical if not is_subject(object.union(given, {"lie": "vertical"}))

test_lie_not_stated_is_subject if is_subject(object.remove(given, ["lie"]))

test_not_subject_circuit_vent if count(combination_too_steep.subject) == 0 with input as {"drains": [given], "wet_vents": [{"id": "d1", "kind": "circuit"}]}

outcome(d, p) := o if {
	o := combination_too_steep.verdict[d.id].outcome with input as object.union(more, {"drains": [d]}) with data.profile as p
}

open(d, p) if {
	combination_too_steep.subject[d.id] with input as object.union(more, {"drains": [d]}) with data.profile as p
	not combination_too_steep.verdict[d.id] with input as object.union(more, {"drains": [d]}) with data.profile as p
}

is_subject(d) if combination_too_steep.subject[d.id] with input as object.union(more, {"drains": [d]}) with data.profile as profile
