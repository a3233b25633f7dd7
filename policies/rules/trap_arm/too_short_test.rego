package rules.trap_arm.too_short_test

import data.rules.trap_arm.too_short

profile := {"trap_arm": {"min_length_diameters": 2}}

given := {"id": "f1", "fixture_kind": "lavatory", "self_siphonic": false, "method": "individual", "size": "DN 40", "dn": 40, "diameter": 38100, "length": 914400, "fall": 19050, "slope": 20833, "turns": 90000, "has_cleanout": false, "vertical_drop": false}

test_pass_when_long if outcome(given, profile) == "pass"

test_fail_when_short if outcome(object.union(given, {"length": 50800}), profile) == "fail"

# Two diameters: ICC plumbing code 909.3, from memory.
test_boundary_at_the_limit if outcome(object.union(given, {"length": 76200}), profile) == "pass"

test_boundary_a_64th_under if outcome(object.union(given, {"length": 75803}), profile) == "fail"

test_open_without_length if open(object.remove(given, ["length"]), profile)

test_open_without_diameter if open(object.remove(given, ["diameter"]), profile)

test_open_without_table if open(given, json.remove(profile, ["trap_arm/min_length_diameters"]))

test_not_subject_when_water_closet if not is_subject(object.union(given, {"self_siphonic": true, "fixture_kind": "water_closet"}))

outcome(d, p) := o if {
	o := too_short.verdict[d.id].outcome with input as {"trap_arms": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not too_short.verdict[d.id] with input as {"trap_arms": [d]} with data.profile as p
}

is_subject(d) if too_short.subject[d.id] with input as {"trap_arms": [d]}
