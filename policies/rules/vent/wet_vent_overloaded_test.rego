package rules.vent.wet_vent_overloaded_test

import data.rules.vent.wet_vent_overloaded

profile := {"wet_vent": {"max_load": {"DN 50": 4000}}}

given := {"id": "b4", "kind": "wet", "size": "DN 50", "dn": 50, "load": 3000, "lie": "horizontal", "fixture_kinds": ["lavatory", "shower"], "fixtures": 2, "water_closets_upstream": 0, "first_vented": "lavatory", "vented_fixtures": ["f3"]}

test_pass_when_light if outcome(given, profile) == "pass"

test_fail_when_heavy if outcome(object.union(given, {"load": 6000}), profile) == "fail"

# 4 units for 2 in: ICC plumbing code table 912.3, from memory.
test_boundary_at_the_limit if outcome(object.union(given, {"load": 4000}), profile) == "pass"

test_boundary_half_a_unit_over if outcome(object.union(given, {"load": 4500}), profile) == "fail"

test_open_without_load if open(object.remove(given, ["load"]), profile)

test_open_without_size if open(object.remove(given, ["size"]), profile)

test_open_without_table_entry if open(given, json.remove(profile, ["wet_vent/max_load/DN 50"]))

test_not_subject_when_circuit if not is_subject(object.union(given, {"kind": "circuit"}))

outcome(d, p) := o if {
	o := wet_vent_overloaded.verdict[d.id].outcome with input as {"wet_vents": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not wet_vent_overloaded.verdict[d.id] with input as {"wet_vents": [d]} with data.profile as p
}

is_subject(d) if wet_vent_overloaded.subject[d.id] with input as {"wet_vents": [d]}
