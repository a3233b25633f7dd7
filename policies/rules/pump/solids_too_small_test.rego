package rules.pump.solids_too_small_test

import data.rules.pump.solids_too_small

# 2 in with water closets, 1 in otherwise: New York City plumbing code 712.4.1, as read in a stored copy.
profile := {"pump": {"solids_with_closet": 50800, "solids_other": 25400}}

given(facts) := {"pumps": [object.union({"id": "p1"}, facts)]}

test_pass_closet if solids_too_small.verdict.p1.outcome == "pass" with input as given({"kind": "solids_handling", "water_closets": 1, "solids": 63500}) with data.profile as profile

test_pass_no_closet if solids_too_small.verdict.p1.outcome == "pass" with input as given({"kind": "effluent", "water_closets": 0, "solids": 38100}) with data.profile as profile

test_pass_grinder if solids_too_small.verdict.p1.outcome == "pass" with input as given({"kind": "grinder", "water_closets": 1}) with data.profile as profile

test_fail_closet if solids_too_small.verdict.p1.outcome == "fail" with input as given({"kind": "solids_handling", "water_closets": 1, "solids": 38100}) with data.profile as profile

test_boundary_two_inches_with_closet if {
	solids_too_small.verdict.p1.outcome == "pass" with input as given({"kind": "solids_handling", "water_closets": 1, "solids": 50800}) with data.profile as profile
	solids_too_small.verdict.p1.outcome == "fail" with input as given({"kind": "solids_handling", "water_closets": 1, "solids": 50403}) with data.profile as profile
}

test_boundary_one_inch_without if {
	solids_too_small.verdict.p1.outcome == "pass" with input as given({"kind": "effluent", "water_closets": 0, "solids": 25400}) with data.profile as profile
	solids_too_small.verdict.p1.outcome == "fail" with input as given({"kind": "effluent", "water_closets": 0, "solids": 25003}) with data.profile as profile
}

test_open_solids_missing if {
	solids_too_small.subject.p1 with input as given({"kind": "solids_handling", "water_closets": 1}) with data.profile as profile
	not solids_too_small.verdict.p1 with input as given({"kind": "solids_handling", "water_closets": 1}) with data.profile as profile
}

test_open_kind_missing if {
	solids_too_small.subject.p1 with input as given({"water_closets": 1, "solids": 63500}) with data.profile as profile
	not solids_too_small.verdict.p1 with input as given({"water_closets": 1, "solids": 63500}) with data.profile as profile
}

test_open_kind_missing_without_closets if {
	solids_too_small.subject.p1 with input as given({"water_closets": 0, "solids": 63500}) with data.profile as profile
	not solids_too_small.verdict.p1 with input as given({"water_closets": 0, "solids": 63500}) with data.profile as profile
}

test_open_table_missing if {
	solids_too_small.subject.p1 with input as given({"kind": "solids_handling", "water_closets": 1, "solids": 63500}) with data.profile as {}
	not solids_too_small.verdict.p1 with input as given({"kind": "solids_handling", "water_closets": 1, "solids": 63500}) with data.profile as {}
}

test_not_subject_fixture if count(solids_too_small.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}

test_pass_other_kinds if {
	solids_too_small.verdict.p1.outcome == "pass" with input as given({"kind": "effluent", "water_closets": 1, "solids": 63500}) with data.profile as profile
	solids_too_small.verdict.p1.outcome == "pass" with input as given({"kind": "solids_handling", "water_closets": 0, "solids": 38100}) with data.profile as profile
	solids_too_small.verdict.p1.outcome == "pass" with input as given({"kind": "macerating", "water_closets": 1}) with data.profile as profile
}
