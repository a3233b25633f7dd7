package rules.trap_arm.too_flat_test

import data.rules.trap_arm.too_flat

profile := {"trap_arm": {"min_slope": {"DN 40": 20833}}}

given := {"id": "f1", "fixture_kind": "lavatory", "self_siphonic": false, "method": "individual", "size": "DN 40", "dn": 40, "diameter": 38100, "length": 914400, "fall": 19050, "slope": 41667, "turns": 90000, "has_cleanout": false, "level_part": true, "vertical_drop": false}

test_pass_when_steeper if outcome(given, profile) == "pass"

test_fail_when_flatter if outcome(object.union(given, {"slope": 10417}), profile) == "fail"

# 1/4 in/ft for 1-1/2 in: ICC plumbing code table 909.1, from memory; the rounding of a slope is forgiven.
test_boundary_at_the_limit if outcome(object.union(given, {"slope": 20833}), profile) == "pass"

test_boundary_under_the_limit if outcome(object.union(given, {"slope": 20830}), profile) == "fail"

test_pass_without_a_level_part if outcome(object.union(object.remove(given, ["slope"]), {"level_part": false, "vertical_drop": true}), profile) == "pass"

test_open_without_slope if open(object.remove(given, ["slope"]), profile)

test_open_without_size if open(object.remove(given, ["size"]), profile)

test_open_without_table_entry if open(given, json.remove(profile, ["trap_arm/min_slope/DN 40"]))

test_not_subject_when_there_is_no_trap_arm if count(too_flat.subject) == 0 with input as {"trap_arms": []}

test_pass_without_a_level_part_whatever_its_slope if outcome(object.union(given, {"level_part": false, "slope": 10417}), profile) == "pass"

outcome(d, p) := o if {
	o := too_flat.verdict[d.id].outcome with input as {"trap_arms": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not too_flat.verdict[d.id] with input as {"trap_arms": [d]} with data.profile as p
}

is_subject(d) if too_flat.subject[d.id] with input as {"trap_arms": [d]}
