package rules.discharge.joint_not_permitted_test

import data.rules.discharge.joint_not_permitted

profile := {"discharge": {"joints_not_permitted": ["unshielded_coupling", "hubless"]}}

given(facts) := {"joints": [object.union({"id": "d1/joint-1"}, facts)]}

test_pass_cement if joint_not_permitted.verdict["d1/joint-1"].outcome == "pass" with input as given({"pumped": true, "kind": "solvent_cement"}) with data.profile as profile

test_fail_coupling if joint_not_permitted.verdict["d1/joint-1"].outcome == "fail" with input as given({"pumped": true, "kind": "unshielded_coupling"}) with data.profile as profile

test_open_table_missing if {
	joint_not_permitted.subject["d1/joint-1"] with input as given({"pumped": true, "kind": "solvent_cement"}) with data.profile as {}
	not joint_not_permitted.verdict["d1/joint-1"] with input as given({"pumped": true, "kind": "solvent_cement"}) with data.profile as {}
}

test_not_subject_gravity if not joint_not_permitted.subject["d1/joint-1"] with input as given({"pumped": false, "kind": "unshielded_coupling"}) with data.profile as profile
