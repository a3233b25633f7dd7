package rules.vent.missing_save_floor_drains_test

import data.rules.vent.missing_save_floor_drains

profile := {"vent": {"accepted_methods": ["individual", "common", "wet"]}}

given := {"id": "f1", "kind": "lavatory", "indirect": false, "trap_type": "p_trap", "vent_method": "individual", "vent_ends_at": "open_air"}

floor_drain := object.union(given, {"kind": "floor_drain", "vent_method": "none"})

test_pass_individual_vent if outcome(given, profile) == "pass"

test_pass_vented_floor_drain if outcome(object.union(floor_drain, {"vent_method": "wet"}), profile) == "pass"

test_fail_without_vent if outcome(object.union(given, {"vent_method": "none"}), profile) == "fail"

test_fail_method_not_accepted if outcome(object.union(given, {"vent_method": "air_admittance"}), profile) == "fail"

test_fail_floor_drain_by_a_method_not_accepted if outcome(object.union(floor_drain, {"vent_method": "air_admittance"}), profile) == "fail"

test_fail_vent_that_leads_nowhere if outcome(object.union(given, {"vent_ends_at": "nothing"}), profile) == "fail"

test_review_floor_drain_with_a_vent_that_leads_nowhere if outcome(object.union(floor_drain, {"vent_method": "individual", "vent_ends_at": "nothing"}), profile) == "review"

test_review_unvented_floor_drain if outcome(floor_drain, profile) == "review"

test_open_without_methods if open(given, json.remove(profile, ["vent/accepted_methods"]))

test_unknown_trap_is_a_subject if is_subject(object.remove(given, ["trap_type"]))

test_not_subject_when_indirect if not is_subject(object.union(given, {"indirect": true}))

test_not_subject_without_trap if not is_subject(object.union(given, {"trap_type": "none"}))

outcome(d, p) := o if {
	o := missing_save_floor_drains.verdict[d.id].outcome with input as {"fixtures": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not missing_save_floor_drains.verdict[d.id] with input as {"fixtures": [d]} with data.profile as p
}

is_subject(d) if missing_save_floor_drains.subject[d.id] with input as {"fixtures": [d]}
