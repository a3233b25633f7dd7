package rules.basin.not_vented_test

import data.rules.basin.not_vented

given(facts) := {"basins": [object.union({"id": "s1"}, facts)]}

test_pass_open_air if not_vented.verdict.s1.outcome == "pass" with input as given({"has_vent": true, "engineered_vent": false, "vent_ends_at": "open_air"})

test_pass_engineered_valve if not_vented.verdict.s1.outcome == "pass" with input as given({"has_vent": true, "engineered_vent": true, "vent_ends_at": "air_admittance_valve"})

test_fail_no_vent if not_vented.verdict.s1.outcome == "fail" with input as given({"has_vent": false, "engineered_vent": false, "vent_ends_at": "nothing"})

test_fail_no_vent_but_a_design if not_vented.verdict.s1.outcome == "fail" with input as given({"has_vent": false, "engineered_vent": true, "vent_ends_at": "nothing"})

test_fail_valve_without_design if not_vented.verdict.s1.outcome == "fail" with input as given({"has_vent": true, "engineered_vent": false, "vent_ends_at": "air_admittance_valve"})

test_fail_ends_in_nothing if not_vented.verdict.s1.outcome == "fail" with input as given({"has_vent": true, "engineered_vent": true, "vent_ends_at": "nothing"})

test_open_end_unknown if {
	not_vented.subject.s1 with input as given({"has_vent": true, "engineered_vent": false})
	not not_vented.verdict.s1 with input as given({"has_vent": true, "engineered_vent": false})
}

test_not_subject_fixture if count(not_vented.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}

test_pass_engineered_to_open_air if not_vented.verdict.s1.outcome == "pass" with input as given({"has_vent": true, "engineered_vent": true, "vent_ends_at": "open_air"})
