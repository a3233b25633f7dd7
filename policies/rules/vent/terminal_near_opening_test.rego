package rules.vent.terminal_near_opening_test

import data.rules.vent.terminal_near_opening

profile := {"terminal": {"opening_distance": 3048000, "opening_height": 914400}}

given := {"id": "t1", "kind": "roof_vent", "size": "DN 80", "dn": 80, "height_above_roof": 304800, "roof_used": false, "distance_to_opening": 4572000, "height_above_opening": 0, "distance_to_lot_line": 3048000, "frost_closure": true}

test_pass_when_far if outcome(given, profile) == "pass"

test_pass_when_high_above if outcome(object.union(given, {"distance_to_opening": 609600, "height_above_opening": 1219200}), profile) == "pass"

test_fail_when_near_and_low if outcome(object.union(given, {"distance_to_opening": 609600}), profile) == "fail"

# 10 ft away or 3 ft above: ICC plumbing code 903.5, from memory.
test_boundary_at_the_distance if outcome(object.union(given, {"distance_to_opening": 3048000}), profile) == "pass"

test_boundary_a_64th_nearer if outcome(object.union(given, {"distance_to_opening": 3047603}), profile) == "fail"

test_boundary_at_the_height if outcome(object.union(given, {"distance_to_opening": 609600, "height_above_opening": 914400}), profile) == "pass"

test_boundary_a_64th_lower if outcome(object.union(given, {"distance_to_opening": 609600, "height_above_opening": 914003}), profile) == "fail"

test_pass_when_far_and_the_height_is_not_stated if outcome(object.remove(given, ["height_above_opening"]), profile) == "pass"

test_open_without_distance if open(object.remove(given, ["distance_to_opening"]), profile)

test_open_without_table if open(given, json.remove(profile, ["terminal/opening_distance"]))

test_open_without_table_of_heights if open(object.union(given, {"distance_to_opening": 609600}), json.remove(profile, ["terminal/opening_height"]))

test_open_when_near_and_the_height_is_not_stated if {
	open(object.union(object.remove(given, ["height_above_opening"]), {"distance_to_opening": 609600}), profile)
}

test_not_subject_when_there_is_no_terminal if count(terminal_near_opening.subject) == 0 with input as {"terminals": []}

outcome(d, p) := o if {
	o := terminal_near_opening.verdict[d.id].outcome with input as {"terminals": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not terminal_near_opening.verdict[d.id] with input as {"terminals": [d]} with data.profile as p
}

is_subject(d) if terminal_near_opening.subject[d.id] with input as {"terminals": [d]}
