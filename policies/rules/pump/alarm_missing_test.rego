package rules.pump.alarm_missing_test

import data.rules.pump.alarm_missing

profile := {"pump": {"alarm_kinds": ["audible", "visual", "audible_and_visual"]}}

given(facts) := {"pumps": [object.union({"id": "p1"}, facts)]}

test_pass_audible if alarm_missing.verdict.p1.outcome == "pass" with input as given({"alarm_kind": "audible"}) with data.profile as profile

test_fail_none if alarm_missing.verdict.p1.outcome == "fail" with input as given({"alarm_kind": "none"}) with data.profile as profile

test_open_nothing_stated if {
	alarm_missing.subject.p1 with input as given({"alarm_stated": false}) with data.profile as profile
	not alarm_missing.verdict.p1 with input as given({"alarm_stated": false}) with data.profile as profile
}

test_open_table_missing if {
	alarm_missing.subject.p1 with input as given({"alarm_kind": "audible"}) with data.profile as {}
	not alarm_missing.verdict.p1 with input as given({"alarm_kind": "audible"}) with data.profile as {}
}

test_not_subject_fixture if count(alarm_missing.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
