package rules.backwater.blocks_upper_floors_test

import data.rules.backwater.blocks_upper_floors

profile := {}

given := {"id": "bw1", "pipe_id": "b9", "accessible": true, "fixtures_above_manhole": 0}

test_pass_with_low_fixtures_only if outcome(given, profile) == "pass"

test_fail_with_upper_fixtures if outcome(object.union(given, {"fixtures_above_manhole": 3}), profile) == "fail"

test_boundary_none if outcome(object.union(given, {"fixtures_above_manhole": 0}), profile) == "pass"

test_boundary_one if outcome(object.union(given, {"fixtures_above_manhole": 1}), profile) == "fail"

test_open_when_elevations_are_not_stated if open(object.remove(given, ["fixtures_above_manhole"]), profile)

test_not_subject_when_there_is_no_valve if count(blocks_upper_floors.subject) == 0 with input as {"backwater_valves": []}

test_pass_in_an_existing_building_where_exempt if existing({"backwater": {"existing_exempt": true}}) == "pass"

test_fail_in_an_existing_building_where_not_exempt if existing({"backwater": {"existing_exempt": false}}) == "fail"

test_fail_when_nobody_says_that_the_building_exists if {
	outcome(object.union(given, {"fixtures_above_manhole": 3}), {"backwater": {"existing_exempt": true}}) == "fail"
}

test_fail_in_an_existing_building_without_table if existing({}) == "fail"

existing(p) := o if {
	o := blocks_upper_floors.verdict.bw1.outcome with input as {
		"building": {"id": "building", "existing": true},
		"backwater_valves": [object.union(given, {"fixtures_above_manhole": 3})],
	}
		with data.profile as p
}

outcome(d, p) := o if {
	o := blocks_upper_floors.verdict[d.id].outcome with input as {"backwater_valves": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not blocks_upper_floors.verdict[d.id] with input as {"backwater_valves": [d]} with data.profile as p
}

is_subject(d) if blocks_upper_floors.subject[d.id] with input as {"backwater_valves": [d]}
