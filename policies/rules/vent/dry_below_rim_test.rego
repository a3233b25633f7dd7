package rules.vent.dry_below_rim_test

import data.rules.vent.dry_below_rim

profile := {"vent": {"dry_rise_above_rim": 152400}}

given := {"id": "v1", "size": "DN 50", "dn": 50, "diameter": 50800, "lie": "vertical", "load": 6000, "drain_size": "DN 80", "drain_dn": 80, "length": 6096000, "ends_at": "open_air", "serves_drains": true, "serves_basin": false, "from_drain": true, "serves_water_closet": true, "rise_above_rim": 304800}

test_pass_when_high if outcome(given, profile) == "pass"

test_fail_when_low if outcome(object.union(given, {"rise_above_rim": 50800}), profile) == "fail"

test_fail_below_the_rim if outcome(object.union(given, {"rise_above_rim": -152400}), profile) == "fail"

# 6 in: ICC plumbing code 905.4, from memory.
test_boundary_at_the_limit if outcome(object.union(given, {"rise_above_rim": 152400}), profile) == "pass"

test_boundary_a_64th_under if outcome(object.union(given, {"rise_above_rim": 152003}), profile) == "fail"

test_pass_high_at_a_valve if outcome(object.union(given, {"ends_at": "air_admittance_valve"}), profile) == "pass"

test_review_low_at_a_valve if outcome(object.union(given, {"ends_at": "air_admittance_valve", "rise_above_rim": 50800}), profile) == "review"

test_open_without_height if open(object.remove(given, ["rise_above_rim"]), profile)

test_open_without_table if open(given, json.remove(profile, ["vent/dry_rise_above_rim"]))

test_not_subject_when_for_a_basin_alone if not is_subject(object.union(given, {"serves_drains": false, "serves_basin": true}))

outcome(d, p) := o if {
	o := dry_below_rim.verdict[d.id].outcome with input as {"vents": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not dry_below_rim.verdict[d.id] with input as {"vents": [d]} with data.profile as p
}

is_subject(d) if dry_below_rim.subject[d.id] with input as {"vents": [d]}
