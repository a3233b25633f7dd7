package rules.trap_arm.falls_too_far_test

import data.rules.trap_arm.falls_too_far

profile := {"trap_arm": {"max_fall_diameters": 1, "self_siphonic_exempt": true}}

given := {"id": "f1", "fixture_kind": "lavatory", "self_siphonic": false, "method": "individual", "size": "DN 40", "dn": 40, "diameter": 38100, "length": 914400, "fall": 19050, "slope": 20833, "turns": 90000, "has_cleanout": false, "vertical_drop": false}

test_pass_when_shallow if outcome(given, profile) == "pass"

test_fail_when_deep if outcome(object.union(given, {"fall": 76200}), profile) == "fail"

# One diameter: ICC plumbing code 909.2, from memory.
test_boundary_at_the_limit if outcome(object.union(given, {"fall": 38100}), profile) == "pass"

test_boundary_a_64th_over if outcome(object.union(given, {"fall": 38497}), profile) == "fail"

test_pass_water_closet_where_exempt if outcome(object.union(given, {"self_siphonic": true, "fixture_kind": "water_closet", "fall": 304800}), profile) == "pass"

test_fail_water_closet_where_bound if outcome(object.union(given, {"self_siphonic": true, "fixture_kind": "water_closet", "fall": 304800}), object.union(profile, {"trap_arm": {"self_siphonic_exempt": false}})) == "fail"

# Vertical pipe between fixture and combination drain and vent: ICC plumbing
# code 915.2, from memory.
test_pass_drop_into_a_combination_vent if outcome(object.union(given, {"method": "combination", "vertical_drop": true, "fall": 914400}), profile) == "pass"

test_fail_level_arm_of_a_combination_vent if outcome(object.union(given, {"method": "combination", "fall": 76200}), profile) == "fail"

test_fail_drop_to_an_individual_vent if outcome(object.union(given, {"vertical_drop": true, "fall": 914400}), profile) == "fail"

test_open_without_fall if open(object.remove(given, ["fall"]), profile)

test_open_without_diameter if open(object.remove(given, ["diameter"]), profile)

test_open_without_table if open(given, json.remove(profile, ["trap_arm/max_fall_diameters"]))

test_open_water_closet_without_table if open(object.union(given, {"self_siphonic": true, "fixture_kind": "water_closet"}), json.remove(profile, ["trap_arm/self_siphonic_exempt"]))

test_not_subject_when_there_is_no_trap_arm if count(falls_too_far.subject) == 0 with input as {"trap_arms": []}

test_pass_closet_that_drops_into_a_combination_drain if outcome(object.union(given, {"self_siphonic": true, "fixture_kind": "water_closet", "method": "combination", "vertical_drop": true}), profile) == "pass"

test_open_when_it_is_not_known_to_be_self_siphonic if open(object.remove(given, ["self_siphonic"]), object.union(profile, {"trap_arm": {"self_siphonic_exempt": false}}))

outcome(d, p) := o if {
	o := falls_too_far.verdict[d.id].outcome with input as {"trap_arms": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not falls_too_far.verdict[d.id] with input as {"trap_arms": [d]} with data.profile as p
}

is_subject(d) if falls_too_far.subject[d.id] with input as {"trap_arms": [d]}
