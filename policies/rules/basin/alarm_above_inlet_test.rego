package rules.basin.alarm_above_inlet_test

import data.rules.basin.alarm_above_inlet

given(facts) := {"basins": [object.union({"id": "s1"}, facts)]}

test_pass_below if alarm_above_inlet.verdict.s1.outcome == "pass" with input as given({"alarm_level": 400000, "inlet_height": 500000})

test_fail_above if alarm_above_inlet.verdict.s1.outcome == "fail" with input as given({"alarm_level": 600000, "inlet_height": 500000})

test_boundary_at_the_invert if {
	alarm_above_inlet.verdict.s1.outcome == "pass" with input as given({"alarm_level": 500000, "inlet_height": 500000})
	alarm_above_inlet.verdict.s1.outcome == "fail" with input as given({"alarm_level": 500397, "inlet_height": 500000})
}

test_open_alarm_missing if {
	alarm_above_inlet.subject.s1 with input as given({"inlet_height": 500000})
	not alarm_above_inlet.verdict.s1 with input as given({"inlet_height": 500000})
}

test_open_inlet_missing if {
	alarm_above_inlet.subject.s1 with input as given({"alarm_level": 400000})
	not alarm_above_inlet.verdict.s1 with input as given({"alarm_level": 400000})
}

test_not_subject_fixture if count(alarm_above_inlet.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
