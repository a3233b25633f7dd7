package rules.basin.levels_out_of_order_test

import data.rules.basin.levels_out_of_order

given(facts) := {"basins": [object.union({"id": "s1"}, facts)]}

test_pass_rising if levels_out_of_order.verdict.s1.outcome == "pass" with input as given({"stop_level": 150000, "start_level": 300000, "highest_start": 400000, "alarm_level": 450000})

test_pass_one_pump if levels_out_of_order.verdict.s1.outcome == "pass" with input as given({"stop_level": 150000, "start_level": 300000, "highest_start": 300000, "alarm_level": 450000})

test_fail_stop_above_start if levels_out_of_order.verdict.s1.outcome == "fail" with input as given({"stop_level": 350000, "start_level": 300000, "highest_start": 300000, "alarm_level": 450000})

test_fail_stop_at_start if levels_out_of_order.verdict.s1.outcome == "fail" with input as given({"stop_level": 300000, "start_level": 300000, "highest_start": 300000, "alarm_level": 450000})

test_fail_alarm_below_second_start if levels_out_of_order.verdict.s1.outcome == "fail" with input as given({"stop_level": 150000, "start_level": 300000, "highest_start": 400000, "alarm_level": 350000})

test_boundary_alarm_just_above_start if {
	levels_out_of_order.verdict.s1.outcome == "pass" with input as given({"stop_level": 150000, "start_level": 300000, "highest_start": 300000, "alarm_level": 300001})
	levels_out_of_order.verdict.s1.outcome == "fail" with input as given({"stop_level": 150000, "start_level": 300000, "highest_start": 300000, "alarm_level": 300000})
}

test_open_alarm_missing if {
	levels_out_of_order.subject.s1 with input as given({"stop_level": 150000, "start_level": 300000, "highest_start": 300000})
	not levels_out_of_order.verdict.s1 with input as given({"stop_level": 150000, "start_level": 300000, "highest_start": 300000})
}

test_open_stop_missing if {
	levels_out_of_order.subject.s1 with input as given({"start_level": 300000, "highest_start": 300000, "alarm_level": 450000})
	not levels_out_of_order.verdict.s1 with input as given({"start_level": 300000, "highest_start": 300000, "alarm_level": 450000})
}

test_not_subject_fixture if count(levels_out_of_order.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
