package rules.vent.circuit_vent_too_steep_test

import data.rules.vent.circuit_vent_too_steep

profile := {"circuit_vent": {"max_slope": 83333}}

more := {"wet_vents": [{"id": "b5", "kind": "circuit"}, {"id": "b6", "kind": "wet"}]}

given := {"id": "b5", "role": "branch", "size": "DN 100", "slope": 20833}

test_pass_when_flatter if outcome(given, profile) == "pass"

test_fail_when_steeper if outcome(object.union(given, {"slope": 125000}), profile) == "fail"

# 1 in/ft: ICC plumbing code 914.3, from memory; the rounding of a slope is forgiven.
test_boundary_at_the_limit if outcome(object.union(given, {"slope": 83333}), profile) == "pass"

test_boundary_over_the_limit if outcome(object.union(given, {"slope": 83342}), profile) == "fail"

test_open_without_slope if open(object.remove(given, ["slope"]), profile)

test_open_without_table if open(given, json.remove(profile, ["circuit_vent/max_slope"]))

test_not_subject_when_wet if not is_subject(object.union(given, {"id": "b6"}))

test_not_subject_when_no_vent if not is_subject(object.union(given, {"id": "b7"}))

outcome(d, p) := o if {
	o := circuit_vent_too_steep.verdict[d.id].outcome with input as object.union(more, {"drains": [d]}) with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not circuit_vent_too_steep.verdict[d.id] with input as object.union(more, {"drains": [d]}) with data.profile as p
}

is_subject(d) if circuit_vent_too_steep.subject[d.id] with input as object.union(more, {"drains": [d]})
