package rules.vent.combination_vent_misused_test

import data.rules.vent.combination_vent_misused

profile := {"combination_vent": {"fixture_kinds": ["floor_drain", "lavatory", "sink", "drinking_fountain"]}}

given := {"id": "b4", "kind": "combination", "size": "DN 50", "dn": 50, "load": 3000, "lie": "horizontal", "fixture_kinds": ["floor_drain", "lavatory"], "fixtures": 2, "water_closets_upstream": 0, "first_vented": "lavatory", "vented_fixtures": ["f3"]}

test_pass_floor_drains if outcome(given, profile) == "pass"

test_fail_water_closet if outcome(object.union(given, {"fixture_kinds": ["floor_drain", "water_closet"]}), profile) == "fail"

test_open_without_the_fact if open(object.remove(given, ["fixture_kinds"]), profile)

test_open_without_table if open(given, json.remove(profile, ["combination_vent/fixture_kinds"]))

test_not_subject_when_wet if not is_subject(object.union(given, {"kind": "wet"}))

outcome(d, p) := o if {
	o := combination_vent_misused.verdict[d.id].outcome with input as {"wet_vents": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not combination_vent_misused.verdict[d.id] with input as {"wet_vents": [d]} with data.profile as p
}

is_subject(d) if combination_vent_misused.subject[d.id] with input as {"wet_vents": [d]}
