package rules.pump.standby_missing_test

import data.rules.pump.standby_missing

# Two pumps in public use: IAPMO plumbing code 710.9, from memory.
profile := {"pump": {"min_count_public": 2}}

given(facts) := {"pumps": [object.union({"id": "p1"}, facts)]}

test_pass_two_pumps if standby_missing.verdict.p1.outcome == "pass" with input as given({"building_use": "public", "pumps_in_basin": 3}) with data.profile as profile

test_pass_home if standby_missing.verdict.p1.outcome == "pass" with input as given({"building_use": "one_family", "pumps_in_basin": 1}) with data.profile as profile

test_fail_one_pump if standby_missing.verdict.p1.outcome == "fail" with input as given({"building_use": "commercial", "pumps_in_basin": 1}) with data.profile as profile

test_review_multifamily if standby_missing.verdict.p1.outcome == "review" with input as given({"building_use": "multifamily", "pumps_in_basin": 1}) with data.profile as profile

test_boundary_at_two if {
	standby_missing.verdict.p1.outcome == "pass" with input as given({"building_use": "public", "pumps_in_basin": 2}) with data.profile as profile
	standby_missing.verdict.p1.outcome == "fail" with input as given({"building_use": "public", "pumps_in_basin": 1}) with data.profile as profile
}

test_open_use_missing if {
	standby_missing.subject.p1 with input as given({"pumps_in_basin": 2}) with data.profile as profile
	not standby_missing.verdict.p1 with input as given({"pumps_in_basin": 2}) with data.profile as profile
}

test_open_table_missing if {
	standby_missing.subject.p1 with input as given({"building_use": "public", "pumps_in_basin": 2}) with data.profile as {}
	not standby_missing.verdict.p1 with input as given({"building_use": "public", "pumps_in_basin": 2}) with data.profile as {}
}

test_not_subject_fixture if count(standby_missing.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}

test_fail_one_pump_in_an_institution_or_a_works if {
	standby_missing.verdict.p1.outcome == "fail" with input as given({"building_use": "institutional", "pumps_in_basin": 1}) with data.profile as profile
	standby_missing.verdict.p1.outcome == "fail" with input as given({"building_use": "industrial", "pumps_in_basin": 1}) with data.profile as profile
}

test_pass_home_of_two_families if standby_missing.verdict.p1.outcome == "pass" with input as given({"building_use": "two_family", "pumps_in_basin": 1}) with data.profile as profile
