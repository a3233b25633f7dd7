package rules.vent.holds_water_test

import data.rules.vent.holds_water

profile := {}

given := {"id": "v1", "size": "DN 50", "dn": 50, "diameter": 50800, "lie": "horizontal", "load": 6000, "drain_size": "DN 80", "drain_dn": 80, "length": 6096000, "ends_at": "open_air", "serves_drains": true, "serves_basin": false, "from_drain": true, "serves_water_closet": true, "rise_above_rim": 304800, "horizontal_above_rim": 304800, "slope": 20833}

test_pass_when_it_rises if outcome(given, profile) == "pass"

test_fail_when_it_sags if outcome(object.union(given, {"slope": -20833}), profile) == "fail"

test_boundary_level if outcome(object.union(given, {"slope": 0}), profile) == "pass"

test_boundary_the_least_sag if outcome(object.union(given, {"slope": -1}), profile) == "fail"

test_open_without_slope if open(object.remove(given, ["slope"]), profile)

test_unknown_lie_is_a_subject if is_subject(object.remove(given, ["lie"]))

test_not_subject_when_vertical if not is_subject(object.union(given, {"lie": "vertical"}))

test_not_subject_at_45_degrees if not is_subject(object.union(given, {"lie": "sloped_45"}))

outcome(d, p) := o if {
	o := holds_water.verdict[d.id].outcome with input as {"vents": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not holds_water.verdict[d.id] with input as {"vents": [d]} with data.profile as p
}

is_subject(d) if holds_water.subject[d.id] with input as {"vents": [d]}
