package rules.drain.buried_too_small_test

import data.rules.drain.buried_too_small

profile := {"drain": {"buried_min_size": 50}}

given := {"id": "b1", "role": "branch", "lie": "horizontal", "size": "DN 80", "dn": 80, "slope": 20833, "fixtures": 2, "water_closets": 1, "buried": true}

test_pass_when_larger if outcome(given, profile) == "pass"

test_fail_when_smaller if outcome(object.union(given, {"dn": 32}), profile) == "fail"

test_boundary_at_the_size if outcome(object.union(given, {"dn": 50}), profile) == "pass"

test_boundary_one_size_below if outcome(object.union(given, {"dn": 40}), profile) == "fail"

test_open_when_burial_is_not_stated if open(object.remove(given, ["buried"]), profile)

test_open_without_size if open(object.remove(given, ["dn"]), profile)

test_open_without_table if open(given, json.remove(profile, ["drain/buried_min_size"]))

test_not_subject_above_ground if not is_subject(object.union(given, {"buried": false}))

outcome(d, p) := o if {
	o := buried_too_small.verdict[d.id].outcome with input as {"drains": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not buried_too_small.verdict[d.id] with input as {"drains": [d]} with data.profile as p
}

is_subject(d) if buried_too_small.subject[d.id] with input as {"drains": [d]}
