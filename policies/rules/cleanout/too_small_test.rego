package rules.cleanout.too_small_test

import data.rules.cleanout.too_small

profile := {"cleanout": {"min_size": {"DN 100": 100, "DN 150": 100}}}

given := {"id": "co1", "pipe_id": "b1", "dn": 100, "pipe_dn": 100, "pipe_size": "DN 100", "clearance": 609600, "accessible": true}

test_pass_when_larger if outcome(object.union(given, {"dn": 150}), profile) == "pass"

test_fail_when_smaller if outcome(object.union(given, {"dn": 50}), profile) == "fail"

# Pipe size up to 4 in: ICC plumbing code 708.1.5, from memory.
test_boundary_at_the_size if outcome(given, profile) == "pass"

test_boundary_one_size_below if outcome(object.union(given, {"dn": 80}), profile) == "fail"

test_pass_4_in_on_6_in if outcome(object.union(given, {"pipe_size": "DN 150", "pipe_dn": 150}), profile) == "pass"

test_open_without_size if open(object.remove(given, ["dn"]), profile)

test_open_without_drain_size if open(object.remove(given, ["pipe_size"]), profile)

test_open_without_table_entry if open(given, json.remove(profile, ["cleanout/min_size/DN 100"]))

test_not_subject_when_there_is_no_cleanout if count(too_small.subject) == 0 with input as {"cleanouts": []}

outcome(d, p) := o if {
	o := too_small.verdict[d.id].outcome with input as {"cleanouts": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not too_small.verdict[d.id] with input as {"cleanouts": [d]} with data.profile as p
}

is_subject(d) if too_small.subject[d.id] with input as {"cleanouts": [d]}
