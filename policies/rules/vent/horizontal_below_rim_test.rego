package rules.vent.horizontal_below_rim_test

import data.rules.vent.horizontal_below_rim

profile := {"vent": {"dry_rise_above_rim": 152400}}

given := {"id": "v1", "size": "DN 50", "dn": 50, "diameter": 50800, "lie": "horizontal", "load": 6000, "drain_size": "DN 80", "drain_dn": 80, "length": 6096000, "ends_at": "open_air", "serves_drains": true, "serves_basin": false, "from_drain": true, "serves_water_closet": true, "rise_above_rim": 304800, "horizontal_above_rim": 304800, "slope": 20833}

test_pass_when_high if outcome(given, profile) == "pass"

test_fail_when_low if outcome(object.union(given, {"horizontal_above_rim": 0}), profile) == "fail"

# 6 in: ICC plumbing code 905.5, from memory.
test_boundary_at_the_limit if outcome(object.union(given, {"horizontal_above_rim": 152400}), profile) == "pass"

test_boundary_a_64th_under if outcome(object.union(given, {"horizontal_above_rim": 152003}), profile) == "fail"

test_open_without_height if open(object.remove(given, ["horizontal_above_rim"]), profile)

test_open_without_table if open(given, json.remove(profile, ["vent/dry_rise_above_rim"]))

test_unknown_lie_is_a_subject if is_subject(object.remove(given, ["lie"]))

test_not_subject_when_vertical if not is_subject(object.union(given, {"lie": "vertical"}))

test_not_subject_at_45_degrees if not is_subject(object.union(given, {"lie": "sloped_45"}))

test_not_subject_when_for_a_basin_alone if not is_subject(object.union(given, {"serves_drains": false, "serves_basin": true}))

outcome(d, p) := o if {
	o := horizontal_below_rim.verdict[d.id].outcome with input as {"vents": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not horizontal_below_rim.verdict[d.id] with input as {"vents": [d]} with data.profile as p
}

is_subject(d) if horizontal_below_rim.subject[d.id] with input as {"vents": [d]}
