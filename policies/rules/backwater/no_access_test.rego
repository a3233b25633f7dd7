package rules.backwater.no_access_test

import data.rules.backwater.no_access

profile := {}

given := {"id": "bw1", "pipe_id": "b9", "accessible": true, "fixtures_above_manhole": 0}

test_pass_when_reached if outcome(given, profile) == "pass"

test_fail_when_not if outcome(object.union(given, {"accessible": false}), profile) == "fail"

test_open_when_not_stated if open(object.remove(given, ["accessible"]), profile)

test_not_subject_when_there_is_no_valve if count(no_access.subject) == 0 with input as {"backwater_valves": []}

outcome(d, p) := o if {
	o := no_access.verdict[d.id].outcome with input as {"backwater_valves": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not no_access.verdict[d.id] with input as {"backwater_valves": [d]} with data.profile as p
}

is_subject(d) if no_access.subject[d.id] with input as {"backwater_valves": [d]}
