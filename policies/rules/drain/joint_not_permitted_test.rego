package rules.drain.joint_not_permitted_test

import data.rules.drain.joint_not_permitted

profile := {"joint": {"not_underground": ["unshielded_coupling"], "not_above_ground": ["hub_and_gasket"], "transition_roles": ["building_sewer"]}}

given := {"id": "b1/joint-1", "kind": "solvent_cement", "materials": ["pvc_dwv"], "buried": true, "pumped": false, "role": "branch"}

test_pass_cemented_pvc if outcome(given, profile) == "pass"

test_pass_cemented_pvc_of_two_kinds if outcome(object.union(given, {"materials": ["pvc_dwv", "pvc_sch40"]}), profile) == "pass"

test_pass_shielded_in_the_ground if outcome(object.union(given, {"kind": "shielded_coupling", "materials": ["cast_iron", "pvc_dwv"]}), profile) == "pass"

test_pass_unshielded_above_ground if outcome(object.union(given, {"kind": "unshielded_coupling", "buried": false}), profile) == "pass"

test_fail_unshielded_in_the_ground if outcome(object.union(given, {"kind": "unshielded_coupling"}), profile) == "fail"

test_fail_barred_above_ground if outcome(object.union(given, {"kind": "hub_and_gasket", "buried": false}), profile) == "fail"

test_fail_cement_between_pvc_and_cast_iron if outcome(object.union(given, {"materials": ["cast_iron", "pvc_dwv"]}), profile) == "fail"

test_fail_cement_between_abs_and_pvc if outcome(object.union(given, {"materials": ["abs_dwv", "pvc_dwv"]}), profile) == "fail"

test_fail_cement_between_unlike_plastics_wherever_it_lies if outcome(object.union(given, {"materials": ["abs_dwv", "pvc_dwv"], "buried": false}), profile) == "fail"

test_pass_transition_cement_at_the_sewer if outcome(object.union(given, {"kind": "transition_cement", "materials": ["abs_dwv", "pvc_dwv"], "role": "building_sewer"}), profile) == "pass"

test_fail_transition_cement_inside if outcome(object.union(given, {"kind": "transition_cement", "materials": ["abs_dwv", "pvc_dwv"]}), profile) == "fail"

test_fail_transition_cement_for_other_plastics if outcome(object.union(given, {"kind": "transition_cement", "materials": ["cpvc", "pvc_dwv"], "role": "building_sewer"}), profile) == "fail"

test_fail_transition_cement_in_a_pumped_line if outcome(object.union(given, {"kind": "transition_cement", "materials": ["abs_dwv", "pvc_dwv"], "role": ""}), profile) == "fail"

test_open_transition_cement_without_table if open(object.union(given, {"kind": "transition_cement", "materials": ["abs_dwv", "pvc_dwv"]}), json.remove(profile, ["joint/transition_roles"]))

test_open_when_burial_is_not_stated if open(object.remove(given, ["buried"]), profile)

test_open_without_table_below_ground if open(given, json.remove(profile, ["joint/not_underground"]))

test_open_without_table_above_ground if open(object.union(given, {"buried": false}), json.remove(profile, ["joint/not_above_ground"]))

test_not_subject_when_no_joint_is_stated if count(joint_not_permitted.subject) == 0 with input as {"joints": []}

test_fail_transition_cement_within_one_material if outcome(object.union(given, {"kind": "transition_cement"}), profile) == "fail"

outcome(d, p) := o if {
	o := joint_not_permitted.verdict[d.id].outcome with input as {"joints": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not joint_not_permitted.verdict[d.id] with input as {"joints": [d]} with data.profile as p
}

is_subject(d) if joint_not_permitted.subject[d.id] with input as {"joints": [d]}
