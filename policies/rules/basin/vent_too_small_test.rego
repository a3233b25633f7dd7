package rules.basin.vent_too_small_test

import data.lib.exact_test.exact
import data.rules.basin.vent_too_small

# 1-1/2 in vent at 40 and 60 gpm: 160 ft and 75 ft; not permitted at 200 gpm: ICC plumbing code
# table 906.5.1, from memory.
profile := {"basin": {"vent_length": {"DN 40": [{"at": 2524, "value": 48768000}, {"at": 3785, "value": 22860000}, {"at": 12618, "value": 0}]}}}

given(facts) := {"basins": [object.union({"id": "s1"}, exact(facts, ["pump_rate"]))]}

test_pass_short if vent_too_small.verdict.s1.outcome == "pass" with input as given({"has_vent": true, "vent_size": "DN 40", "pump_rate": 2000, "vent_length": 9144000}) with data.profile as profile

test_fail_long if vent_too_small.verdict.s1.outcome == "fail" with input as given({"has_vent": true, "vent_size": "DN 40", "pump_rate": 2000, "vent_length": 60960000}) with data.profile as profile

test_boundary_length_at_the_limit if {
	vent_too_small.verdict.s1.outcome == "pass" with input as given({"has_vent": true, "vent_size": "DN 40", "pump_rate": 2000, "vent_length": 48768000}) with data.profile as profile
	vent_too_small.verdict.s1.outcome == "fail" with input as given({"has_vent": true, "vent_size": "DN 40", "pump_rate": 2000, "vent_length": 48768397}) with data.profile as profile
}

test_boundary_rate_at_the_step if {
	vent_too_small.verdict.s1.outcome == "pass" with input as given({"has_vent": true, "vent_size": "DN 40", "pump_rate": 2524, "vent_length": 40000000}) with data.profile as profile
	vent_too_small.verdict.s1.outcome == "fail" with input as given({"has_vent": true, "vent_size": "DN 40", "pump_rate": 2525, "vent_length": 40000000}) with data.profile as profile
}

test_fail_size_not_permitted if vent_too_small.verdict.s1.outcome == "fail" with input as given({"has_vent": true, "vent_size": "DN 40", "pump_rate": 9000, "vent_length": 3048000}) with data.profile as profile

test_review_rate_beyond_the_table if vent_too_small.verdict.s1.outcome == "review" with input as given({"has_vent": true, "vent_size": "DN 40", "pump_rate": 20000, "vent_length": 3048000}) with data.profile as profile

test_open_length_missing if {
	vent_too_small.subject.s1 with input as given({"has_vent": true, "vent_size": "DN 40", "pump_rate": 2000}) with data.profile as profile
	not vent_too_small.verdict.s1 with input as given({"has_vent": true, "vent_size": "DN 40", "pump_rate": 2000}) with data.profile as profile
}

test_open_rate_missing if {
	vent_too_small.subject.s1 with input as given({"has_vent": true, "vent_size": "DN 40", "vent_length": 9144000}) with data.profile as profile
	not vent_too_small.verdict.s1 with input as given({"has_vent": true, "vent_size": "DN 40", "vent_length": 9144000}) with data.profile as profile
}

test_open_size_missing if {
	vent_too_small.subject.s1 with input as given({"has_vent": true, "pump_rate": 2000, "vent_length": 9144000}) with data.profile as profile
	not vent_too_small.verdict.s1 with input as given({"has_vent": true, "pump_rate": 2000, "vent_length": 9144000}) with data.profile as profile
}

test_open_size_not_in_table if {
	vent_too_small.subject.s1 with input as given({"has_vent": true, "vent_size": "DN 32", "pump_rate": 2000, "vent_length": 9144000}) with data.profile as profile
	not vent_too_small.verdict.s1 with input as given({"has_vent": true, "vent_size": "DN 32", "pump_rate": 2000, "vent_length": 9144000}) with data.profile as profile
}

test_open_table_missing if {
	vent_too_small.subject.s1 with input as given({"has_vent": true, "vent_size": "DN 40", "pump_rate": 2000, "vent_length": 9144000}) with data.profile as {}
	not vent_too_small.verdict.s1 with input as given({"has_vent": true, "vent_size": "DN 40", "pump_rate": 2000, "vent_length": 9144000}) with data.profile as {}
}

test_not_subject_no_vent if not vent_too_small.subject.s1 with input as given({"has_vent": false, "vent_size": "DN 40", "pump_rate": 2000}) with data.profile as profile

test_review_high_rate_asks_for_a_shorter_vent if vent_too_small.verdict.s1.outcome == "review" with input as given({"has_vent": true, "vent_size": "DN 40", "pump_rate": 2500, "pump_rate_high": 2600, "vent_length": 40000000}) with data.profile as profile

test_review_high_rate_beyond_the_table if vent_too_small.verdict.s1.outcome == "review" with input as given({"has_vent": true, "vent_size": "DN 40", "pump_rate": 2500, "pump_rate_high": 20000, "vent_length": 9144000}) with data.profile as profile

test_open_without_the_high_end_of_the_rate if {
	low_end := {"basins": [{"id": "s1", "has_vent": true, "vent_size": "DN 40", "pump_rate": 2000, "vent_length": 9144000}]}
	vent_too_small.subject.s1 with input as low_end with data.profile as profile
	not vent_too_small.verdict.s1 with input as low_end with data.profile as profile
}
