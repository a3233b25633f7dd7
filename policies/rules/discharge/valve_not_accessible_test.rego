package rules.discharge.valve_not_accessible_test

import data.rules.discharge.valve_not_accessible

profile := {"discharge": {"valve_places": ["above_cover", "access_pit"]}}

given(facts) := {"valves": [object.union({"id": "x1"}, facts)]}

test_pass_above_cover if valve_not_accessible.verdict.x1.outcome == "pass" with input as given({"accessible": true, "place": "above_cover"}) with data.profile as profile

test_fail_out_of_reach if valve_not_accessible.verdict.x1.outcome == "fail" with input as given({"accessible": false, "place": "above_cover"}) with data.profile as profile

test_fail_in_the_basin if valve_not_accessible.verdict.x1.outcome == "fail" with input as given({"accessible": true, "place": "inside_basin"}) with data.profile as profile

test_fail_one_fault_is_enough if valve_not_accessible.verdict.x1.outcome == "fail" with input as given({"place": "buried"}) with data.profile as profile

test_open_access_missing if {
	valve_not_accessible.subject.x1 with input as given({"place": "above_cover"}) with data.profile as profile
	not valve_not_accessible.verdict.x1 with input as given({"place": "above_cover"}) with data.profile as profile
}

test_open_place_missing if {
	valve_not_accessible.subject.x1 with input as given({"accessible": true}) with data.profile as profile
	not valve_not_accessible.verdict.x1 with input as given({"accessible": true}) with data.profile as profile
}

test_open_table_missing if {
	valve_not_accessible.subject.x1 with input as given({"accessible": true, "place": "above_cover"}) with data.profile as {}
	not valve_not_accessible.verdict.x1 with input as given({"accessible": true, "place": "above_cover"}) with data.profile as {}
}

test_not_subject_fixture if count(valve_not_accessible.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
