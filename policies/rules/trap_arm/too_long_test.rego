package rules.trap_arm.too_long_test

import data.rules.trap_arm.too_long

profile := {"trap_arm": {"max_length": {"DN 40": 1828800}, "self_siphonic_exempt": true}}

given := {"id": "f1", "fixture_kind": "lavatory", "self_siphonic": false, "method": "individual", "size": "DN 40", "dn": 40, "diameter": 38100, "length": 914400, "fall": 19050, "slope": 20833, "turns": 90000, "has_cleanout": false, "vertical_drop": false}

test_pass_when_short if outcome(given, profile) == "pass"

test_fail_when_long if outcome(object.union(given, {"length": 2438400}), profile) == "fail"

# 6 ft for 1-1/2 in: ICC plumbing code table 909.1, from memory.
test_boundary_at_the_limit if outcome(object.union(given, {"length": 1828800}), profile) == "pass"

test_boundary_a_64th_over if outcome(object.union(given, {"length": 1829197}), profile) == "fail"

test_pass_water_closet_where_exempt if outcome(object.union(given, {"self_siphonic": true, "fixture_kind": "water_closet", "length": 6096000}), profile) == "pass"

test_fail_water_closet_where_bound if outcome(object.union(given, {"self_siphonic": true, "fixture_kind": "water_closet", "length": 6096000}), object.union(profile, {"trap_arm": {"self_siphonic_exempt": false}})) == "fail"

test_open_without_length if open(object.remove(given, ["length"]), profile)

test_open_without_size if open(object.remove(given, ["size"]), profile)

test_open_without_table_entry if open(given, json.remove(profile, ["trap_arm/max_length/DN 40"]))

test_open_water_closet_without_table if open(object.union(given, {"self_siphonic": true, "fixture_kind": "water_closet"}), json.remove(profile, ["trap_arm/self_siphonic_exempt"]))

test_not_subject_when_there_is_no_trap_arm if count(too_long.subject) == 0 with input as {"trap_arms": []}

test_open_when_it_is_not_known_to_be_self_siphonic if open(object.remove(given, ["self_siphonic"]), object.union(profile, {"trap_arm": {"self_siphonic_exempt": false}}))

outcome(d, p) := o if {
	o := too_long.verdict[d.id].outcome with input as {"trap_arms": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not too_long.verdict[d.id] with input as {"trap_arms": [d]} with data.profile as p
}

is_subject(d) if too_long.subject[d.id] with input as {"trap_arms": [d]}
