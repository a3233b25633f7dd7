package rules.vent.too_long_test

import data.rules.vent.too_long

profile := {"vent": {"max_length": {"DN 50": 36576000}}}

given := {"id": "v1", "size": "DN 50", "dn": 50, "diameter": 50800, "lie": "vertical", "load": 6000, "drain_size": "DN 80", "drain_dn": 80, "length": 6096000, "ends_at": "open_air", "serves_drains": true, "serves_basin": false, "from_drain": true, "serves_water_closet": true, "rise_above_rim": 304800}

test_pass_when_short if outcome(given, profile) == "pass"

test_fail_when_long if outcome(object.union(given, {"length": 45720000}), profile) == "fail"

# 120 ft for 2 in: IAPMO plumbing code table 703.2, from memory.
test_boundary_at_the_limit if outcome(object.union(given, {"length": 36576000}), profile) == "pass"

test_boundary_a_64th_over if outcome(object.union(given, {"length": 36576397}), profile) == "fail"

test_open_without_length if open(object.remove(given, ["length"]), profile)

test_open_without_size if open(object.remove(given, ["size"]), profile)

test_open_without_table_entry if open(given, json.remove(profile, ["vent/max_length/DN 50"]))

test_not_subject_when_for_a_basin_alone if not is_subject(object.union(given, {"serves_drains": false, "serves_basin": true}))

outcome(d, p) := o if {
	o := too_long.verdict[d.id].outcome with input as {"vents": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not too_long.verdict[d.id] with input as {"vents": [d]} with data.profile as p
}

is_subject(d) if too_long.subject[d.id] with input as {"vents": [d]}
