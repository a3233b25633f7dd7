package rules.trap_arm.turns_too_much_test

import data.rules.trap_arm.turns_too_much

profile := {"trap_arm": {"max_turn": {"DN 40": 90000}}}

given := {"id": "f1", "fixture_kind": "lavatory", "self_siphonic": false, "method": "individual", "size": "DN 40", "dn": 40, "diameter": 38100, "length": 914400, "fall": 19050, "slope": 20833, "turns": 45000, "has_cleanout": false, "vertical_drop": false}

test_pass_nearly_straight if outcome(given, profile) == "pass"

test_fail_with_two_quarter_bends if outcome(object.union(given, {"turns": 180000}), profile) == "fail"

test_pass_with_cleanout if outcome(object.union(given, {"turns": 180000, "has_cleanout": true}), profile) == "pass"

# 90 degrees: IAPMO plumbing code 1002.3, from memory.
test_boundary_at_the_limit if outcome(object.union(given, {"turns": 90000}), profile) == "pass"

test_boundary_over_the_limit if outcome(object.union(given, {"turns": 90050}), profile) == "fail"

test_open_without_turns if open(object.remove(given, ["turns"]), profile)

test_open_without_size if open(object.remove(given, ["size"]), profile)

test_open_without_table_entry if open(given, json.remove(profile, ["trap_arm/max_turn/DN 40"]))

test_not_subject_when_there_is_no_trap_arm if count(turns_too_much.subject) == 0 with input as {"trap_arms": []}

outcome(d, p) := o if {
	o := turns_too_much.verdict[d.id].outcome with input as {"trap_arms": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not turns_too_much.verdict[d.id] with input as {"trap_arms": [d]} with data.profile as p
}

is_subject(d) if turns_too_much.subject[d.id] with input as {"trap_arms": [d]}
