package rules.vent.too_small_test

import data.rules.vent.too_small

profile := {"vent": {"min_size": {"DN 50": 32, "DN 80": 40, "DN 100": 50}}}

given := {"id": "v1", "size": "DN 50", "dn": 50, "diameter": 50800, "lie": "vertical", "load": 6000, "drain_size": "DN 80", "drain_dn": 80, "length": 6096000, "ends_at": "open_air", "serves_drains": true, "serves_basin": false, "from_drain": true, "serves_water_closet": true, "rise_above_rim": 304800}

test_pass_when_larger if outcome(given, profile) == "pass"

test_fail_when_smaller if outcome(object.union(given, {"dn": 25}), profile) == "fail"

# Half the drain, 1-1/4 in at least: ICC plumbing code 906.2, from memory.
test_boundary_half_the_drain if outcome(object.union(given, {"dn": 40}), profile) == "pass"

test_boundary_one_size_below if outcome(object.union(given, {"dn": 32}), profile) == "fail"

test_boundary_least_size if outcome(object.union(given, {"dn": 32, "drain_size": "DN 50"}), profile) == "pass"

test_boundary_below_the_least_size if outcome(object.union(given, {"dn": 25, "drain_size": "DN 50"}), profile) == "fail"

test_open_without_size if open(object.remove(given, ["dn"]), profile)

test_open_without_drain_size if open(object.remove(given, ["drain_size"]), profile)

test_open_without_table_entry if open(given, json.remove(profile, ["vent/min_size/DN 80"]))

test_not_subject_when_for_a_basin_alone if not is_subject(object.union(given, {"serves_drains": false, "serves_basin": true}))

outcome(d, p) := o if {
	o := too_small.verdict[d.id].outcome with input as {"vents": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not too_small.verdict[d.id] with input as {"vents": [d]} with data.profile as p
}

is_subject(d) if too_small.subject[d.id] with input as {"vents": [d]}
