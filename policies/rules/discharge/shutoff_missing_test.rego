package rules.discharge.shutoff_missing_test

import data.rules.discharge.shutoff_missing

# One-family buildings: Chicago plumbing code 18-29-712.2, as read in a stored copy.
profile := {"discharge": {"check_only_uses": ["one_family"]}}

given(facts) := {"discharges": [object.union({"id": "d1"}, facts)]}

test_pass_has_one if shutoff_missing.verdict.d1.outcome == "pass" with input as given({"has_shutoff": true}) with data.profile as profile

test_pass_has_one_in_exempt_use if shutoff_missing.verdict.d1.outcome == "pass" with input as given({"has_shutoff": true, "building_use": "one_family"}) with data.profile as profile

test_pass_exempt_use if shutoff_missing.verdict.d1.outcome == "pass" with input as given({"has_shutoff": false, "building_use": "one_family"}) with data.profile as profile

test_fail_has_none if shutoff_missing.verdict.d1.outcome == "fail" with input as given({"has_shutoff": false, "building_use": "commercial"}) with data.profile as profile

test_fail_nothing_exempt if shutoff_missing.verdict.d1.outcome == "fail" with input as given({"has_shutoff": false, "building_use": "one_family"}) with data.profile as {"discharge": {"check_only_uses": []}}

test_open_use_missing if {
	shutoff_missing.subject.d1 with input as given({"has_shutoff": false}) with data.profile as profile
	not shutoff_missing.verdict.d1 with input as given({"has_shutoff": false}) with data.profile as profile
}

test_open_table_missing if {
	shutoff_missing.subject.d1 with input as given({"has_shutoff": false, "building_use": "commercial"}) with data.profile as {}
	not shutoff_missing.verdict.d1 with input as given({"has_shutoff": false, "building_use": "commercial"}) with data.profile as {}
}

test_not_subject_fixture if count(shutoff_missing.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
