package rules.vent.missing_test

import data.rules.vent.missing

profile := {"vent": {"accepted_methods": ["individual", "common", "wet"]}}

given := {"id": "f1", "kind": "lavatory", "indirect": false, "trap_type": "p_trap", "vent_method": "individual", "vent_ends_at": "open_air"}

test_pass_individual_vent if outcome(given, profile) == "pass"

test_pass_wet_vent if outcome(object.union(given, {"vent_method": "wet"}), profile) == "pass"

test_fail_without_vent if outcome(object.union(given, {"vent_method": "none"}), profile) == "fail"

test_fail_without_vent_whatever_is_accepted if outcome(object.union(given, {"vent_method": "none"}), json.remove(profile, ["vent/accepted_methods"])) == "fail"

test_fail_method_not_accepted if outcome(object.union(given, {"vent_method": "air_admittance"}), profile) == "fail"

test_fail_vent_that_leads_nowhere if outcome(object.union(given, {"vent_ends_at": "nothing"}), profile) == "fail"

test_pass_vent_that_leads_nowhere_where_none_is_needed if {
	outcome(object.union(given, {"vent_ends_at": "nothing"}), {"vent": {"accepted_methods": ["none", "individual"]}}) == "pass"
}

test_pass_vent_to_a_valve if outcome(object.union(given, {"vent_ends_at": "air_admittance_valve"}), profile) == "pass"

test_open_without_the_end_of_the_vent if open(object.remove(given, ["vent_ends_at"]), profile)

test_open_without_table if open(given, json.remove(profile, ["vent/accepted_methods"]))

test_unknown_trap_is_a_subject if is_subject(object.remove(given, ["trap_type"]))

test_not_subject_when_indirect if not is_subject(object.union(given, {"indirect": true}))

test_not_subject_without_trap if not is_subject(object.union(given, {"trap_type": "none"}))

outcome(d, p) := o if {
	o := missing.verdict[d.id].outcome with input as {"fixtures": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not missing.verdict[d.id] with input as {"fixtures": [d]} with data.profile as p
}

is_subject(d) if missing.subject[d.id] with input as {"fixtures": [d]}
