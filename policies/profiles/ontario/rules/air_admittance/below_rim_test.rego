package rules.air_admittance.below_rim_test

import data.rules.air_admittance.below_rim

# Above the rim, no margin: Ontario building code 7.5.9.2., as read in a reference.
profile := {"air_admittance": {"min_above_rim": 0}}

given := {"id": "v1", "height_above_rim": 100000}

test_pass_above if outcome(given, profile) == "pass"

test_fail_below if outcome(object.union(given, {"height_above_rim": -100000}), profile) == "fail"

test_boundary_at_the_rim if outcome(object.union(given, {"height_above_rim": 0}), profile) == "pass"

test_boundary_a_millimetre_below if outcome(object.union(given, {"height_above_rim": -1000}), profile) == "fail"

test_open_without_height if open(object.remove(given, ["height_above_rim"]), profile)

test_open_without_table if open(given, {})

test_not_subject_without_valve if count(below_rim.subject) == 0 with input as {"air_admittance_valves": []}

outcome(d, p) := o if {
	o := below_rim.verdict[d.id].outcome with input as {"air_admittance_valves": [d]} with data.profile as p
}

open(d, p) if {
	below_rim.subject[d.id] with input as {"air_admittance_valves": [d]} with data.profile as p
	not below_rim.verdict[d.id] with input as {"air_admittance_valves": [d]} with data.profile as p
}
