package rules.discharge.too_small_test

import data.rules.discharge.too_small

# 2 in with water closets: the least size in ICC plumbing code table 712.4.2, from memory;
# 1-1/4 in stands for any size a profile states.
profile := {"discharge": {"min_size_with_closet": 50, "min_size_other": 32}}

given(facts) := {"discharges": [object.union({"id": "d1"}, facts)]}

test_pass_three_inch if too_small.verdict.d1.outcome == "pass" with input as given({"pump_kind": "solids_handling", "water_closets": 1, "dn": 80}) with data.profile as profile

test_pass_sinks if too_small.verdict.d1.outcome == "pass" with input as given({"pump_kind": "solids_handling", "water_closets": 0, "dn": 40}) with data.profile as profile

test_fail_one_and_a_quarter if too_small.verdict.d1.outcome == "fail" with input as given({"pump_kind": "solids_handling", "water_closets": 1, "dn": 32}) with data.profile as profile

test_boundary_two_inch_with_closet if {
	too_small.verdict.d1.outcome == "pass" with input as given({"pump_kind": "solids_handling", "water_closets": 1, "dn": 50}) with data.profile as profile
	too_small.verdict.d1.outcome == "fail" with input as given({"pump_kind": "solids_handling", "water_closets": 1, "dn": 40}) with data.profile as profile
}

test_boundary_without_closet if {
	too_small.verdict.d1.outcome == "pass" with input as given({"pump_kind": "solids_handling", "water_closets": 0, "dn": 32}) with data.profile as profile
	too_small.verdict.d1.outcome == "fail" with input as given({"pump_kind": "solids_handling", "water_closets": 0, "dn": 25}) with data.profile as profile
}

test_open_size_missing if {
	too_small.subject.d1 with input as given({"pump_kind": "solids_handling", "water_closets": 1}) with data.profile as profile
	not too_small.verdict.d1 with input as given({"pump_kind": "solids_handling", "water_closets": 1}) with data.profile as profile
}

test_open_kind_missing if {
	too_small.subject.d1 with input as given({"water_closets": 1, "dn": 80}) with data.profile as profile
	not too_small.verdict.d1 with input as given({"water_closets": 1, "dn": 80}) with data.profile as profile
}

test_open_kind_missing_without_closets if {
	too_small.subject.d1 with input as given({"water_closets": 0, "dn": 80}) with data.profile as profile
	not too_small.verdict.d1 with input as given({"water_closets": 0, "dn": 80}) with data.profile as profile
}

test_open_table_missing if {
	too_small.subject.d1 with input as given({"pump_kind": "solids_handling", "water_closets": 0, "dn": 80}) with data.profile as {"discharge": {"min_size_with_closet": 50}}
	not too_small.verdict.d1 with input as given({"pump_kind": "solids_handling", "water_closets": 0, "dn": 80}) with data.profile as {"discharge": {"min_size_with_closet": 50}}
}

test_not_subject_grinder if not too_small.subject.d1 with input as given({"pump_kind": "grinder", "water_closets": 1, "dn": 32}) with data.profile as profile

test_not_subject_macerating if not too_small.subject.d1 with input as given({"pump_kind": "macerating", "water_closets": 1, "dn": 20}) with data.profile as profile

test_pass_effluent_pump if {
	too_small.verdict.d1.outcome == "pass" with input as given({"pump_kind": "effluent", "water_closets": 1, "dn": 80}) with data.profile as profile
	too_small.verdict.d1.outcome == "pass" with input as given({"pump_kind": "effluent", "water_closets": 0, "dn": 40}) with data.profile as profile
}
