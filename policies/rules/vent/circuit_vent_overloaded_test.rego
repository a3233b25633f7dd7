package rules.vent.circuit_vent_overloaded_test

import data.rules.vent.circuit_vent_overloaded

profile := {"circuit_vent": {"max_fixtures": 8}}

given := {"id": "b4", "kind": "circuit", "size": "DN 50", "dn": 50, "load": 3000, "lie": "horizontal", "fixture_kinds": ["lavatory", "shower"], "fixtures": 4, "fixtures_on_line": 4, "water_closets_upstream": 0, "first_vented": "lavatory", "vented_fixtures": ["f3"]}

test_pass_with_few if outcome(given, profile) == "pass"

test_fail_with_many if outcome(object.union(given, {"fixtures_on_line": 12}), profile) == "fail"

# Eight drain through it and one more joins where the line ends.
test_fail_with_one_more_at_its_end if outcome(object.union(given, {"fixtures": 8, "fixtures_on_line": 9}), profile) == "fail"

# Eight: ICC plumbing code 914.1, from memory.
test_boundary_at_the_limit if outcome(object.union(given, {"fixtures_on_line": 8}), profile) == "pass"

test_boundary_one_over if outcome(object.union(given, {"fixtures_on_line": 9}), profile) == "fail"

test_open_without_the_fact if open(object.remove(given, ["fixtures_on_line"]), profile)

test_open_without_table if open(given, json.remove(profile, ["circuit_vent/max_fixtures"]))

test_not_subject_when_wet if not is_subject(object.union(given, {"kind": "wet"}))

outcome(d, p) := o if {
	o := circuit_vent_overloaded.verdict[d.id].outcome with input as {"wet_vents": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not circuit_vent_overloaded.verdict[d.id] with input as {"wet_vents": [d]} with data.profile as p
}

is_subject(d) if circuit_vent_overloaded.subject[d.id] with input as {"wet_vents": [d]}
