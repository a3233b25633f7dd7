package rules.trap_arm.drops_too_far_test

import data.rules.trap_arm.drops_too_far

# 1 m: EN 12056-2 table 5, from memory.
profile := {"trap_arm": {"max_drop": 1000000}}

given := {"id": "f1", "fall": 200000}

test_pass_short if outcome(given, profile) == "pass"

test_fail_long if outcome(object.union(given, {"fall": 2000000}), profile) == "fail"

test_boundary_at_the_limit if outcome(object.union(given, {"fall": 1000000}), profile) == "pass"

test_boundary_a_millimetre_over if outcome(object.union(given, {"fall": 1001000}), profile) == "fail"

test_open_without_fall if open(object.remove(given, ["fall"]), profile)

test_open_without_table if open(given, {})

test_not_subject_without_arm if count(drops_too_far.subject) == 0 with input as {"trap_arms": []}

outcome(d, p) := o if {
	o := drops_too_far.verdict[d.id].outcome with input as {"trap_arms": [d]} with data.profile as p
}

open(d, p) if {
	drops_too_far.subject[d.id] with input as {"trap_arms": [d]} with data.profile as p
	not drops_too_far.verdict[d.id] with input as {"trap_arms": [d]} with data.profile as p
}
