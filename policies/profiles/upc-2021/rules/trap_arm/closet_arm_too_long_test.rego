package rules.trap_arm.closet_arm_too_long_test

import data.rules.trap_arm.closet_arm_too_long

# 6 ft: IAPMO plumbing code 1002.2, from memory.
profile := {"trap_arm": {"max_length_closet": 1828800}}

given := {"id": "f1", "fixture_kind": "water_closet", "length": 914400}

test_pass_short if outcome(given, profile) == "pass"

test_fail_long if outcome(object.union(given, {"length": 2743200}), profile) == "fail"

test_boundary_at_the_limit if outcome(object.union(given, {"length": 1828800}), profile) == "pass"

test_boundary_a_64th_over if outcome(object.union(given, {"length": 1829197}), profile) == "fail"

test_open_without_length if open(object.remove(given, ["length"]), profile)

test_open_without_table if open(given, {})

test_not_subject_lavatory if not is_subject(object.union(given, {"fixture_kind": "lavatory"}))

outcome(d, p) := o if {
	o := closet_arm_too_long.verdict[d.id].outcome with input as {"trap_arms": [d]} with data.profile as p
}

open(d, p) if {
	closet_arm_too_long.subject[d.id] with input as {"trap_arms": [d]} with data.profile as p
	not closet_arm_too_long.verdict[d.id] with input as {"trap_arms": [d]} with data.profile as p
}

is_subject(d) if closet_arm_too_long.subject[d.id] with input as {"trap_arms": [d]} with data.profile as profile
