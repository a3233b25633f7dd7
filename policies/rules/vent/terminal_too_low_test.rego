package rules.vent.terminal_too_low_test

import data.rules.vent.terminal_too_low

profile := {"terminal": {"min_above_roof": 152400, "min_above_used_roof": 2133600}}

given := {"id": "t1", "kind": "roof_vent", "size": "DN 80", "dn": 80, "height_above_roof": 304800, "roof_used": false, "distance_to_opening": 4572000, "height_above_opening": 0, "distance_to_lot_line": 3048000, "frost_closure": true}

test_pass_when_high if outcome(given, profile) == "pass"

test_fail_when_low if outcome(object.union(given, {"height_above_roof": 76200}), profile) == "fail"

# 6 in, and 7 ft over a used roof: ICC plumbing code 903.1, from memory.
test_boundary_at_the_limit if outcome(object.union(given, {"height_above_roof": 152400}), profile) == "pass"

test_boundary_a_64th_under if outcome(object.union(given, {"height_above_roof": 152003}), profile) == "fail"

test_fail_on_a_used_roof if outcome(object.union(given, {"roof_used": true}), profile) == "fail"

test_boundary_on_a_used_roof if outcome(object.union(given, {"roof_used": true, "height_above_roof": 2133600}), profile) == "pass"

test_boundary_a_64th_under_on_a_used_roof if outcome(object.union(given, {"roof_used": true, "height_above_roof": 2133203}), profile) == "fail"

test_open_without_height if open(object.remove(given, ["height_above_roof"]), profile)

test_open_when_use_of_roof_is_not_stated if open(object.remove(given, ["roof_used"]), profile)

test_open_without_table if open(given, json.remove(profile, ["terminal/min_above_roof"]))

test_open_without_table_for_used_roofs if open(object.union(given, {"roof_used": true}), json.remove(profile, ["terminal/min_above_used_roof"]))

test_not_subject_when_in_a_wall if not is_subject(object.union(given, {"kind": "wall_vent"}))

outcome(d, p) := o if {
	o := terminal_too_low.verdict[d.id].outcome with input as {"terminals": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not terminal_too_low.verdict[d.id] with input as {"terminals": [d]} with data.profile as p
}

is_subject(d) if terminal_too_low.subject[d.id] with input as {"terminals": [d]}
