package rules.discharge.valves_out_of_order_test

import data.rules.discharge.valves_out_of_order

given(facts) := {"discharges": [object.union({"id": "d1"}, facts)]}

test_pass_in_order if valves_out_of_order.verdict.d1.outcome == "pass" with input as given({"has_check_valve": true, "has_shutoff": true, "check_before_shutoff": true})

test_pass_one_missing if valves_out_of_order.verdict.d1.outcome == "pass" with input as given({"has_check_valve": true, "has_shutoff": false})

test_pass_check_missing if valves_out_of_order.verdict.d1.outcome == "pass" with input as given({"has_check_valve": false, "has_shutoff": true, "check_before_shutoff": false})

test_pass_both_missing if valves_out_of_order.verdict.d1.outcome == "pass" with input as given({"has_check_valve": false, "has_shutoff": false})

test_fail_swapped if valves_out_of_order.verdict.d1.outcome == "fail" with input as given({"has_check_valve": true, "has_shutoff": true, "check_before_shutoff": false})

test_open_order_unknown if {
	valves_out_of_order.subject.d1 with input as given({"has_check_valve": true, "has_shutoff": true})
	not valves_out_of_order.verdict.d1 with input as given({"has_check_valve": true, "has_shutoff": true})
}

test_not_subject_fixture if count(valves_out_of_order.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}

test_pass_shutoff_missing_whatever_the_order if valves_out_of_order.verdict.d1.outcome == "pass" with input as given({"has_check_valve": true, "has_shutoff": false, "check_before_shutoff": false})
