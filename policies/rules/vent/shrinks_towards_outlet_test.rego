package rules.vent.shrinks_towards_outlet_test

import data.rules.vent.shrinks_towards_outlet

given := {"id": "v1", "has_vent_below": true, "dn": 80, "largest_below_dn": 50, "largest_below_id": "v0"}

test_pass_wider if outcome(given) == "pass"

# Common practice.
test_boundary_as_large if outcome(object.union(given, {"dn": 50})) == "pass"

test_boundary_one_size_smaller if outcome(object.union(given, {"dn": 40})) == "fail"

test_fail_much_smaller if outcome(object.union(given, {"dn": 40, "largest_below_dn": 100})) == "fail"

test_open_without_size if open(object.remove(given, ["dn"]))

test_open_without_the_size_below if open(object.remove(given, ["largest_below_dn"]))

test_not_subject_first_pipe if not is_subject(object.union(given, {"has_vent_below": false}))

outcome(d) := o if o := shrinks_towards_outlet.verdict[d.id].outcome with input as {"vents": [d]}

open(d) if {
	is_subject(d)
	not shrinks_towards_outlet.verdict[d.id] with input as {"vents": [d]}
}

is_subject(d) if shrinks_towards_outlet.subject[d.id] with input as {"vents": [d]}
