package rules.basin.vent_shared_test

import data.rules.basin.vent_shared

profile := {"basin": {"vent_may_join": false}}

given(facts) := {"basins": [object.union({"id": "s1"}, facts)]}

test_pass_own_vent if vent_shared.verdict.s1.outcome == "pass" with input as given({"has_vent": true, "vent_joined": false}) with data.profile as profile

test_pass_may_join if vent_shared.verdict.s1.outcome == "pass" with input as given({"has_vent": true, "vent_joined": true}) with data.profile as {"basin": {"vent_may_join": true}}

test_fail_joined if vent_shared.verdict.s1.outcome == "fail" with input as given({"has_vent": true, "vent_joined": true}) with data.profile as profile

test_open_fact_missing if {
	vent_shared.subject.s1 with input as given({"has_vent": true}) with data.profile as profile
	not vent_shared.verdict.s1 with input as given({"has_vent": true}) with data.profile as profile
}

test_open_table_missing if {
	vent_shared.subject.s1 with input as given({"has_vent": true, "vent_joined": false}) with data.profile as {}
	not vent_shared.verdict.s1 with input as given({"has_vent": true, "vent_joined": false}) with data.profile as {}
}

test_not_subject_no_vent if not vent_shared.subject.s1 with input as given({"has_vent": false}) with data.profile as profile
