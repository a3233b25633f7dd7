package rules.discharge.shutoff_not_full_open_test

import data.rules.discharge.shutoff_not_full_open

profile := {"discharge": {"shutoff_styles": ["gate", "ball"]}}

given(facts) := {"valves": [object.union({"id": "x1"}, facts)]}

test_pass_gate if shutoff_not_full_open.verdict.x1.outcome == "pass" with input as given({"kind": "full_open_valve", "style": "gate"}) with data.profile as profile

test_fail_globe if shutoff_not_full_open.verdict.x1.outcome == "fail" with input as given({"kind": "shutoff_valve", "style": "globe"}) with data.profile as profile

test_open_style_missing if {
	shutoff_not_full_open.subject.x1 with input as given({"kind": "full_open_valve"}) with data.profile as profile
	not shutoff_not_full_open.verdict.x1 with input as given({"kind": "full_open_valve"}) with data.profile as profile
}

test_open_table_missing if {
	shutoff_not_full_open.subject.x1 with input as given({"kind": "full_open_valve", "style": "gate"}) with data.profile as {}
	not shutoff_not_full_open.verdict.x1 with input as given({"kind": "full_open_valve", "style": "gate"}) with data.profile as {}
}

test_not_subject_check_valve if not shutoff_not_full_open.subject.x1 with input as given({"kind": "check_valve", "style": "swing"}) with data.profile as profile
