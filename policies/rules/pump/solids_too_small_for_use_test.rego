package rules.pump.solids_too_small_for_use_test

import data.rules.pump.solids_too_small_for_use

# 1-1/2 in in a single dwelling, 2 in otherwise: IAPMO plumbing code 710.3, as read in a commentary.
profile := {"pump": {"solids_by_use": {"one_family": 38100, "public": 50800}}}

given(facts) := {"pumps": [object.union({"id": "p1"}, facts)]}

test_pass_home if solids_too_small_for_use.verdict.p1.outcome == "pass" with input as given({"kind": "solids_handling", "water_closets": 1, "urinals": 0, "building_use": "one_family", "solids": 50800}) with data.profile as profile

test_pass_grinder if solids_too_small_for_use.verdict.p1.outcome == "pass" with input as given({"kind": "grinder", "water_closets": 1, "urinals": 0, "building_use": "one_family"}) with data.profile as profile

test_fail_public if solids_too_small_for_use.verdict.p1.outcome == "fail" with input as given({"kind": "solids_handling", "water_closets": 1, "urinals": 0, "building_use": "public", "solids": 38100}) with data.profile as profile

test_boundary_home_at_one_and_a_half_inches if {
	solids_too_small_for_use.verdict.p1.outcome == "pass" with input as given({"kind": "solids_handling", "water_closets": 1, "urinals": 0, "building_use": "one_family", "solids": 38100}) with data.profile as profile
	solids_too_small_for_use.verdict.p1.outcome == "fail" with input as given({"kind": "solids_handling", "water_closets": 1, "urinals": 0, "building_use": "one_family", "solids": 37703}) with data.profile as profile
}

test_pass_urinal_only if solids_too_small_for_use.verdict.p1.outcome == "pass" with input as given({"kind": "solids_handling", "water_closets": 0, "urinals": 1, "building_use": "one_family", "solids": 38100}) with data.profile as profile

test_open_solids_missing if {
	solids_too_small_for_use.subject.p1 with input as given({"kind": "solids_handling", "water_closets": 1, "urinals": 0, "building_use": "one_family"}) with data.profile as profile
	not solids_too_small_for_use.verdict.p1 with input as given({"kind": "solids_handling", "water_closets": 1, "urinals": 0, "building_use": "one_family"}) with data.profile as profile
}

test_open_use_missing if {
	solids_too_small_for_use.subject.p1 with input as given({"kind": "solids_handling", "water_closets": 1, "urinals": 0, "solids": 50800}) with data.profile as profile
	not solids_too_small_for_use.verdict.p1 with input as given({"kind": "solids_handling", "water_closets": 1, "urinals": 0, "solids": 50800}) with data.profile as profile
}

test_open_kind_missing if {
	solids_too_small_for_use.subject.p1 with input as given({"water_closets": 1, "urinals": 0, "building_use": "one_family", "solids": 50800}) with data.profile as profile
	not solids_too_small_for_use.verdict.p1 with input as given({"water_closets": 1, "urinals": 0, "building_use": "one_family", "solids": 50800}) with data.profile as profile
}

test_open_table_missing if {
	solids_too_small_for_use.subject.p1 with input as given({"kind": "solids_handling", "water_closets": 1, "urinals": 0, "building_use": "one_family", "solids": 50800}) with data.profile as {}
	not solids_too_small_for_use.verdict.p1 with input as given({"kind": "solids_handling", "water_closets": 1, "urinals": 0, "building_use": "one_family", "solids": 50800}) with data.profile as {}
}

test_not_subject_sinks_only if not solids_too_small_for_use.subject.p1 with input as given({"kind": "solids_handling", "water_closets": 0, "urinals": 0, "building_use": "one_family", "solids": 50800}) with data.profile as profile

test_pass_other_kinds if {
	solids_too_small_for_use.verdict.p1.outcome == "pass" with input as given({"kind": "effluent", "water_closets": 1, "urinals": 0, "building_use": "one_family", "solids": 50800}) with data.profile as profile
	solids_too_small_for_use.verdict.p1.outcome == "pass" with input as given({"kind": "macerating", "water_closets": 1, "urinals": 0, "building_use": "one_family"}) with data.profile as profile
}

test_pass_closet_and_urinal if solids_too_small_for_use.verdict.p1.outcome == "pass" with input as given({"kind": "solids_handling", "water_closets": 1, "urinals": 1, "building_use": "one_family", "solids": 38100}) with data.profile as profile
