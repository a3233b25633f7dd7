package rules.cleanout.no_access_test

import data.rules.cleanout.no_access

profile := {}

given := {"id": "co1", "pipe_id": "b1", "dn": 100, "pipe_dn": 100, "pipe_size": "DN 100", "clearance": 609600, "accessible": true}

test_pass_when_reached if outcome(given, profile) == "pass"

test_fail_when_not if outcome(object.union(given, {"accessible": false}), profile) == "fail"

test_open_when_not_stated if open(object.remove(given, ["accessible"]), profile)

test_not_subject_when_there_is_no_cleanout if count(no_access.subject) == 0 with input as {"cleanouts": []}

outcome(d, p) := o if {
	o := no_access.verdict[d.id].outcome with input as {"cleanouts": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not no_access.verdict[d.id] with input as {"cleanouts": [d]} with data.profile as p
}

is_subject(d) if no_access.subject[d.id] with input as {"cleanouts": [d]}
