package rules.backwater.missing_test

import data.rules.backwater.missing

profile := {}

given := {"id": "building", "fixtures": 5, "fixtures_below_manhole": 2, "backwater_valves": 1, "manhole_rim_stated": true}

test_pass_with_valve if outcome(given, profile) == "pass"

test_pass_when_nothing_is_low if outcome(object.union(given, {"fixtures_below_manhole": 0, "backwater_valves": 0}), profile) == "pass"

test_fail_without_valve if outcome(object.union(given, {"backwater_valves": 0}), profile) == "fail"

test_fail_for_one_low_fixture if outcome(object.union(given, {"fixtures_below_manhole": 1, "backwater_valves": 0}), profile) == "fail"

test_one_fixture_is_a_subject if is_subject(object.union(given, {"fixtures": 1}))

test_boundary_one_valve if outcome(object.union(given, {"backwater_valves": 1}), profile) == "pass"

test_boundary_none if outcome(object.union(given, {"backwater_valves": 0}), profile) == "fail"

test_open_when_elevations_are_not_stated if open(object.remove(given, ["fixtures_below_manhole"]), profile)

test_not_subject_without_fixtures if not is_subject(object.union(given, {"fixtures": 0}))

outcome(d, p) := o if {
	o := missing.verdict[d.id].outcome with input as {"building": d} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not missing.verdict[d.id] with input as {"building": d} with data.profile as p
}

is_subject(d) if missing.subject[d.id] with input as {"building": d}
