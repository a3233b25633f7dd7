package rules.vent.none_to_open_air_test

import data.rules.vent.none_to_open_air

profile := {}

given := {"id": "building", "fixtures": 4, "open_air_vents": 2}

test_pass_with_vents if outcome(given, profile) == "pass"

test_pass_with_one_fixture if outcome(object.union(given, {"fixtures": 1}), profile) == "pass"

test_one_fixture_is_a_subject if is_subject(object.union(given, {"fixtures": 1}))

test_pass_in_an_existing_building if outcome(object.union(given, {"existing": true}), profile) == "pass"

test_fail_without if outcome(object.union(given, {"open_air_vents": 0}), profile) == "fail"

test_fail_without_in_a_new_building if outcome(object.union(given, {"open_air_vents": 0, "existing": false}), profile) == "fail"

test_boundary_one_vent if outcome(object.union(given, {"open_air_vents": 1}), profile) == "pass"

test_boundary_none if outcome(object.union(given, {"open_air_vents": 0}), profile) == "fail"

test_review_in_an_existing_building if outcome(object.union(given, {"open_air_vents": 0, "existing": true}), profile) == "review"

test_open_without_the_fact if open(object.remove(given, ["open_air_vents"]), profile)

test_not_subject_without_fixtures if not is_subject(object.union(given, {"fixtures": 0}))

test_pass_existing_with_one if outcome(object.union(given, {"existing": true, "open_air_vents": 1}), profile) == "pass"

outcome(d, p) := o if {
	o := none_to_open_air.verdict[d.id].outcome with input as {"building": d} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not none_to_open_air.verdict[d.id] with input as {"building": d} with data.profile as p
}

is_subject(d) if none_to_open_air.subject[d.id] with input as {"building": d}
