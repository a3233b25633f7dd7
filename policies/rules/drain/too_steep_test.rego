package rules.drain.too_steep_test

import data.rules.drain.too_steep

profile := {"drain": {"max_slope": {"DN 80": 50000}}}

given := {"id": "b1", "role": "branch", "lie": "horizontal", "size": "DN 80", "dn": 80, "slope": 20833, "fixtures": 2, "water_closets": 1}

test_pass_when_flatter if outcome(given, profile) == "pass"

test_fail_when_steeper if outcome(object.union(given, {"slope": 83333}), profile) == "fail"

test_boundary_at_the_limit if outcome(object.union(given, {"slope": 50000}), profile) == "pass"

test_boundary_over_the_limit if outcome(object.union(given, {"slope": 50006}), profile) == "fail"

test_open_without_slope if open(object.remove(given, ["slope"]), profile)

test_open_without_size if open(object.remove(given, ["size"]), profile)

test_open_without_table_entry if open(given, json.remove(profile, ["drain/max_slope/DN 80"]))

test_unknown_lie_is_a_subject if is_subject(object.remove(given, ["lie"]))

test_not_subject_when_vertical if not is_subject(object.union(given, {"lie": "vertical"}))

test_not_subject_at_45_degrees if not is_subject(object.union(given, {"lie": "sloped_45"}))

outcome(d, p) := o if {
	o := too_steep.verdict[d.id].outcome with input as {"drains": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not too_steep.verdict[d.id] with input as {"drains": [d]} with data.profile as p
}

is_subject(d) if too_steep.subject[d.id] with input as {"drains": [d]}
