package rules.discharge.union_missing_test

import data.rules.discharge.union_missing

# Union, check valve, shutoff: Ontario building code 7.4.6.3., from memory.
profile := {"discharge": {"devices_required": ["union", "check_valve", "full_open_valve"]}}

given := {"id": "m", "devices": ["union", "check_valve", "full_open_valve"]}

test_pass_in_order if outcome(given, profile) == "pass"

test_pass_with_others_between if outcome(object.union(given, {"devices": ["relief_hole", "union", "check_valve", "cleanout", "full_open_valve"]}), profile) == "pass"

test_fail_without_union if outcome(object.union(given, {"devices": ["check_valve", "full_open_valve"]}), profile) == "fail"

test_fail_union_above_the_valves if outcome(object.union(given, {"devices": ["check_valve", "full_open_valve", "union"]}), profile) == "fail"

test_open_without_table if open(given, {})

test_not_subject_without_line if count(union_missing.subject) == 0 with input as {"discharges": []}

outcome(d, p) := o if {
	o := union_missing.verdict[d.id].outcome with input as {"discharges": [d]} with data.profile as p
}

open(d, p) if {
	union_missing.subject[d.id] with input as {"discharges": [d]} with data.profile as p
	not union_missing.verdict[d.id] with input as {"discharges": [d]} with data.profile as p
}
