package rules.vent.ends_nowhere_test

import data.rules.vent.ends_nowhere

profile := {}

given := {"id": "v1", "size": "DN 50", "dn": 50, "diameter": 50800, "lie": "vertical", "load": 6000, "drain_size": "DN 80", "drain_dn": 80, "length": 6096000, "ends_at": "open_air", "serves_drains": true, "serves_basin": false, "from_drain": true, "serves_water_closet": true, "rise_above_rim": 304800}

test_pass_in_the_open_air if outcome(given, profile) == "pass"

test_pass_at_a_valve if outcome(object.union(given, {"ends_at": "air_admittance_valve"}), profile) == "pass"

test_fail_at_nothing if outcome(object.union(given, {"ends_at": "nothing"}), profile) == "fail"

test_open_without_the_fact if open(object.remove(given, ["ends_at"]), profile)

test_not_subject_when_there_is_no_vent if count(ends_nowhere.subject) == 0 with input as {"vents": []}

outcome(d, p) := o if {
	o := ends_nowhere.verdict[d.id].outcome with input as {"vents": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not ends_nowhere.verdict[d.id] with input as {"vents": [d]} with data.profile as p
}

is_subject(d) if ends_nowhere.subject[d.id] with input as {"vents": [d]}
