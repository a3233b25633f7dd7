package rules.cleanout.no_clearance_test

import data.rules.cleanout.no_clearance

profile := {"cleanout": {"clearance": {"DN 100": 457200, "DN 200": 914400}}}

given := {"id": "co1", "pipe_id": "b1", "dn": 100, "pipe_dn": 100, "pipe_size": "DN 100", "clearance": 609600, "accessible": true}

test_pass_with_room if outcome(given, profile) == "pass"

test_fail_without_room if outcome(object.union(given, {"clearance": 203200}), profile) == "fail"

# 18 in up to 6 in pipe, 36 in from 8 in: ICC plumbing code 708.1.9, from memory.
test_boundary_at_the_limit if outcome(object.union(given, {"clearance": 457200}), profile) == "pass"

test_boundary_a_64th_under if outcome(object.union(given, {"clearance": 456803}), profile) == "fail"

test_fail_larger_pipe if outcome(object.union(given, {"pipe_size": "DN 200"}), profile) == "fail"

test_open_without_clearance if open(object.remove(given, ["clearance"]), profile)

test_open_without_drain_size if open(object.remove(given, ["pipe_size"]), profile)

test_open_without_table_entry if open(given, json.remove(profile, ["cleanout/clearance/DN 100"]))

test_not_subject_when_there_is_no_cleanout if count(no_clearance.subject) == 0 with input as {"cleanouts": []}

outcome(d, p) := o if {
	o := no_clearance.verdict[d.id].outcome with input as {"cleanouts": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not no_clearance.verdict[d.id] with input as {"cleanouts": [d]} with data.profile as p
}

is_subject(d) if no_clearance.subject[d.id] with input as {"cleanouts": [d]}
