package rules.vent.too_small_for_length_test

import data.rules.vent.too_small_for_length

profile := {"vent": {"upsize_length": 12192000, "min_size": {"DN 80": 40}, "next_size": {"DN 32": 40, "DN 40": 50, "DN 50": 65}}}

given := {"id": "v1", "size": "DN 50", "dn": 50, "diameter": 50800, "lie": "vertical", "load": 6000, "drain_size": "DN 80", "drain_dn": 80, "length": 15240000, "ends_at": "open_air", "serves_drains": true, "serves_basin": false, "from_drain": true, "serves_water_closet": true, "rise_above_rim": 304800}

test_pass_when_larger if outcome(object.union(given, {"dn": 80}), profile) == "pass"

test_fail_when_not_larger if outcome(object.union(given, {"dn": 40}), profile) == "fail"

# 40 ft: ICC plumbing code 906.2, from memory.
test_boundary_one_size_larger if outcome(given, profile) == "pass"

test_pass_short_vent if outcome(object.union(given, {"dn": 40, "length": 6096000}), profile) == "pass"

test_boundary_longest_without if outcome(object.union(given, {"dn": 40, "length": 12192000}), profile) == "pass"

test_boundary_a_64th_longer if outcome(object.union(given, {"dn": 40, "length": 12192397}), profile) == "fail"

test_open_without_length if open(object.remove(given, ["length"]), profile)

test_open_without_size if open(object.remove(given, ["dn"]), profile)

test_open_without_drain_size if open(object.remove(given, ["drain_size"]), profile)

test_open_without_length_limit if open(given, json.remove(profile, ["vent/upsize_length"]))

test_open_without_next_size if open(given, json.remove(profile, ["vent/next_size/DN 40"]))

test_open_without_size_table if open(given, json.remove(profile, ["vent/min_size/DN 80"]))

test_not_subject_when_for_a_basin_alone if not is_subject(object.union(given, {"serves_drains": false, "serves_basin": true}))

outcome(d, p) := o if {
	o := too_small_for_length.verdict[d.id].outcome with input as {"vents": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not too_small_for_length.verdict[d.id] with input as {"vents": [d]} with data.profile as p
}

is_subject(d) if too_small_for_length.subject[d.id] with input as {"vents": [d]}
