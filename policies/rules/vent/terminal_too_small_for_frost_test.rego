package rules.vent.terminal_too_small_for_frost_test

import data.rules.vent.terminal_too_small_for_frost

profile := {"terminal": {"frost_min_size": 80}}

given := {"id": "t1", "kind": "roof_vent", "size": "DN 80", "dn": 80, "height_above_roof": 304800, "roof_used": false, "distance_to_opening": 4572000, "height_above_opening": 0, "distance_to_lot_line": 3048000, "frost_closure": true}

test_pass_when_larger if outcome(object.union(given, {"dn": 100}), profile) == "pass"

test_fail_when_smaller if outcome(object.union(given, {"dn": 50}), profile) == "fail"

# 3 in: ICC plumbing code 903.2, from memory.
test_boundary_at_the_size if outcome(given, profile) == "pass"

test_boundary_one_size_below if outcome(object.union(given, {"dn": 65}), profile) == "fail"

test_open_when_frost_is_not_stated if open(object.remove(given, ["frost_closure"]), profile)

test_open_without_size if open(object.remove(given, ["dn"]), profile)

test_open_without_table if open(given, json.remove(profile, ["terminal/frost_min_size"]))

test_not_subject_without_frost if not is_subject(object.union(given, {"frost_closure": false}))

outcome(d, p) := o if {
	o := terminal_too_small_for_frost.verdict[d.id].outcome with input as {"terminals": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not terminal_too_small_for_frost.verdict[d.id] with input as {"terminals": [d]} with data.profile as p
}

is_subject(d) if terminal_too_small_for_frost.subject[d.id] with input as {"terminals": [d]}
