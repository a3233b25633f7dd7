package rules.backwater.fixture_unprotected_test

import data.rules.backwater.fixture_unprotected

profile := {}

given := {"id": "f1", "kind": "floor_drain", "drains_to": "connection", "below_manhole": true, "through_backwater_valve": true}

test_pass_through_the_valve if outcome(given, profile) == "pass"

test_fail_without if outcome(object.union(given, {"through_backwater_valve": false}), profile) == "fail"

test_open_when_elevations_are_not_stated if open(object.remove(given, ["below_manhole"]), profile)

test_not_subject_when_high if not is_subject(object.union(given, {"below_manhole": false}))

test_not_subject_when_pumped if not is_subject(object.union(given, {"drains_to": "basin"}))

outcome(d, p) := o if {
	o := fixture_unprotected.verdict[d.id].outcome with input as {"fixtures": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not fixture_unprotected.verdict[d.id] with input as {"fixtures": [d]} with data.profile as p
}

is_subject(d) if fixture_unprotected.subject[d.id] with input as {"fixtures": [d]}
