package rules.drain.double_fitting_misused_test

import data.rules.drain.double_fitting_misused

profile := {"fitting": {"double_not_for": ["water_closet", "pumped"]}}

given := {"id": "j1", "kind": "double_sanitary_tee", "source": "junction", "dn": 80, "changes": ["horizontal_to_vertical"], "double": true, "back_to_back": false, "water_closet_inlets": 0, "pumped_inlets": 0, "fixture_drain": false}

test_pass_two_lavatories if outcome(given, profile) == "pass"

test_fail_pumped if outcome(object.union(given, {"pumped_inlets": 1}), profile) == "fail"

test_fail_water_closets_back_to_back if outcome(object.union(given, {"water_closet_inlets": 2, "back_to_back": true}), profile) == "fail"

test_boundary_one_water_closet if outcome(object.union(given, {"water_closet_inlets": 1}), profile) == "pass"

test_boundary_two_water_closets if outcome(object.union(given, {"water_closet_inlets": 2}), profile) == "fail"

test_pass_where_not_barred if outcome(object.union(given, {"pumped_inlets": 1}), object.union(profile, {"fitting": {"double_not_for": ["water_closet"]}})) == "pass"

test_open_without_kind if open(object.remove(given, ["kind"]), profile)

test_open_without_table if open(given, json.remove(profile, ["fitting/double_not_for"]))

test_not_subject_when_single if not is_subject(object.union(given, {"double": false}))

test_not_subject_when_double_wye if not is_subject(object.union(given, {"kind": "double_wye"}))

test_not_subject_when_double_combination_wye if not is_subject(object.union(given, {"kind": "double_combination_wye"}))

outcome(d, p) := o if {
	o := double_fitting_misused.verdict[d.id].outcome with input as {"fittings": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not double_fitting_misused.verdict[d.id] with input as {"fittings": [d]} with data.profile as p
}

is_subject(d) if double_fitting_misused.subject[d.id] with input as {"fittings": [d]}
