package rules.cleanout.missing_at_turn_test

import data.rules.cleanout.missing_at_turn

profile := {"cleanout": {"turn_over": 45000, "turn_covers": 12192000}}

given := {"id": "b1/bend-1", "reason": "direction_change", "pipe_id": "b1", "role": "branch", "has_cleanout": false, "any_upstream": true, "fixture_removable": false, "fixture_kinds": ["shower"], "length": 3048000, "turn": 90000, "distance_to_cleanout": 9144000}

test_pass_slight_turn_with_cleanout if outcome(object.union(given, {"turn": 30000, "has_cleanout": true}), profile) == "pass"

test_pass_with_cleanout_at_the_turn if outcome(object.union(given, {"has_cleanout": true}), profile) == "pass"

test_pass_with_cleanout_upstream if outcome(given, profile) == "pass"

test_fail_without_any if outcome(object.union(given, {"any_upstream": false}), profile) == "fail"

test_fail_with_cleanout_far_upstream if outcome(object.union(given, {"distance_to_cleanout": 15240000}), profile) == "fail"

# 45 degrees and 40 ft: ICC plumbing code 708.1.4, from memory.
test_boundary_at_the_reach if outcome(object.union(given, {"distance_to_cleanout": 12192000}), profile) == "pass"

test_boundary_a_64th_beyond if outcome(object.union(given, {"distance_to_cleanout": 12192397}), profile) == "fail"

test_boundary_slight_turn if outcome(object.union(given, {"turn": 45000, "any_upstream": false}), profile) == "pass"

test_boundary_sharper_turn if outcome(object.union(given, {"turn": 45050, "any_upstream": false}), profile) == "fail"

test_open_without_distance if open(object.remove(given, ["distance_to_cleanout"]), profile)

test_open_without_turn_limit if open(object.union(given, {"distance_to_cleanout": 15240000}), json.remove(profile, ["cleanout/turn_over"]))

test_open_without_reach if open(given, json.remove(profile, ["cleanout/turn_covers"]))

test_not_subject_at_an_upper_end if not is_subject(object.union(given, {"reason": "upper_end"}))

test_open_without_angle if open(object.union(object.remove(given, ["turn"]), {"any_upstream": false}), profile)

outcome(d, p) := o if {
	o := missing_at_turn.verdict[d.id].outcome with input as {"cleanout_needs": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not missing_at_turn.verdict[d.id] with input as {"cleanout_needs": [d]} with data.profile as p
}

is_subject(d) if missing_at_turn.subject[d.id] with input as {"cleanout_needs": [d]}
