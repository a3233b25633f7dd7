package rules.cleanout.turns_too_much_test

import data.rules.cleanout.turns_too_much

# 135 degrees: IAPMO plumbing code 707.5, from memory.
profile := {"cleanout": {"max_aggregate_turn": 135000}}

given := {"id": "d1", "turns": 90000}

test_pass_one_quarter if outcome(given, profile) == "pass"

test_fail_two_quarters if outcome(object.union(given, {"turns": 180000}), profile) == "fail"

test_boundary_at_the_limit if outcome(object.union(given, {"turns": 135000}), profile) == "pass"

test_boundary_a_sixteenth_more if outcome(object.union(given, {"turns": 157500}), profile) == "fail"

test_open_without_table if open(given, {})

test_not_subject_when_there_is_no_run if count(turns_too_much.subject) == 0 with input as {"cleanout_runs": []}

outcome(d, p) := o if {
	o := turns_too_much.verdict[d.id].outcome with input as {"cleanout_runs": [d]} with data.profile as p
}

open(d, p) if {
	turns_too_much.subject[d.id] with input as {"cleanout_runs": [d]} with data.profile as p
	not turns_too_much.verdict[d.id] with input as {"cleanout_runs": [d]} with data.profile as p
}
