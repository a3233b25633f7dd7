package rules.discharge.too_small_for_use_test

import data.rules.discharge.too_small_for_use

# 2 in in a single dwelling, 3 in otherwise: IAPMO plumbing code 710.3, as read in a commentary.
profile := {"discharge": {"min_size_by_use": {"one_family": 50, "public": 80}}}

given(facts) := {"discharges": [object.union({"id": "d1"}, facts)]}

test_pass_home if too_small_for_use.verdict.d1.outcome == "pass" with input as given({"pump_kind": "solids_handling", "water_closets": 1, "building_use": "one_family", "dn": 80}) with data.profile as profile

test_fail_public if too_small_for_use.verdict.d1.outcome == "fail" with input as given({"pump_kind": "solids_handling", "water_closets": 1, "building_use": "public", "dn": 50}) with data.profile as profile

test_boundary_home_at_two_inches if {
	too_small_for_use.verdict.d1.outcome == "pass" with input as given({"pump_kind": "solids_handling", "water_closets": 1, "building_use": "one_family", "dn": 50}) with data.profile as profile
	too_small_for_use.verdict.d1.outcome == "fail" with input as given({"pump_kind": "solids_handling", "water_closets": 1, "building_use": "one_family", "dn": 40}) with data.profile as profile
}

test_open_size_missing if {
	too_small_for_use.subject.d1 with input as given({"pump_kind": "solids_handling", "water_closets": 1, "building_use": "one_family"}) with data.profile as profile
	not too_small_for_use.verdict.d1 with input as given({"pump_kind": "solids_handling", "water_closets": 1, "building_use": "one_family"}) with data.profile as profile
}

test_open_use_missing if {
	too_small_for_use.subject.d1 with input as given({"pump_kind": "solids_handling", "water_closets": 1, "dn": 80}) with data.profile as profile
	not too_small_for_use.verdict.d1 with input as given({"pump_kind": "solids_handling", "water_closets": 1, "dn": 80}) with data.profile as profile
}

test_open_kind_missing if {
	too_small_for_use.subject.d1 with input as given({"water_closets": 1, "building_use": "one_family", "dn": 80}) with data.profile as profile
	not too_small_for_use.verdict.d1 with input as given({"water_closets": 1, "building_use": "one_family", "dn": 80}) with data.profile as profile
}

test_open_table_missing if {
	too_small_for_use.subject.d1 with input as given({"pump_kind": "solids_handling", "water_closets": 1, "building_use": "one_family", "dn": 80}) with data.profile as {}
	not too_small_for_use.verdict.d1 with input as given({"pump_kind": "solids_handling", "water_closets": 1, "building_use": "one_family", "dn": 80}) with data.profile as {}
}

test_not_subject_grinder if not too_small_for_use.subject.d1 with input as given({"pump_kind": "grinder", "water_closets": 1, "building_use": "one_family", "dn": 32}) with data.profile as profile

test_not_subject_macerating if not too_small_for_use.subject.d1 with input as given({"pump_kind": "macerating", "water_closets": 1, "building_use": "one_family", "dn": 20}) with data.profile as profile

test_not_subject_sinks_only if not too_small_for_use.subject.d1 with input as given({"pump_kind": "solids_handling", "water_closets": 0, "building_use": "one_family", "dn": 32}) with data.profile as profile

test_pass_effluent_pump if too_small_for_use.verdict.d1.outcome == "pass" with input as given({"pump_kind": "effluent", "water_closets": 1, "building_use": "one_family", "dn": 80}) with data.profile as profile
