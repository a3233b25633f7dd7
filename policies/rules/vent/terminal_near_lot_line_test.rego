package rules.vent.terminal_near_lot_line_test

import data.rules.vent.terminal_near_lot_line

profile := {"terminal": {"lot_line_distance": 914400}}

given := {"id": "t1", "kind": "roof_vent", "size": "DN 80", "dn": 80, "height_above_roof": 304800, "roof_used": false, "distance_to_opening": 4572000, "height_above_opening": 0, "distance_to_lot_line": 3048000, "frost_closure": true}

test_pass_when_far if outcome(given, profile) == "pass"

test_fail_when_near if outcome(object.union(given, {"distance_to_lot_line": 304800}), profile) == "fail"

# 3 ft: IAPMO plumbing code 906.2, from memory.
test_boundary_at_the_limit if outcome(object.union(given, {"distance_to_lot_line": 914400}), profile) == "pass"

test_boundary_a_64th_nearer if outcome(object.union(given, {"distance_to_lot_line": 914003}), profile) == "fail"

test_open_without_distance if open(object.remove(given, ["distance_to_lot_line"]), profile)

test_open_without_table if open(given, json.remove(profile, ["terminal/lot_line_distance"]))

test_not_subject_when_there_is_no_terminal if count(terminal_near_lot_line.subject) == 0 with input as {"terminals": []}

outcome(d, p) := o if {
	o := terminal_near_lot_line.verdict[d.id].outcome with input as {"terminals": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not terminal_near_lot_line.verdict[d.id] with input as {"terminals": [d]} with data.profile as p
}

is_subject(d) if terminal_near_lot_line.subject[d.id] with input as {"terminals": [d]}
