package rules.discharge.overloads_receiver_test

import data.lib.exact_test.exact
import data.rules.discharge.overloads_receiver

# ICC plumbing code tables 710.1(1) and 710.1(2), from memory: 4 in building drain 180 and 216 units at
# 1/8 and 1/4 in/ft; 3 in branch 20, stack of at most three intervals 48, higher 72.
profile := {"building_drain": {"max_load": {"DN 100": [{"at": 10417, "value": 180000}, {"at": 20833, "value": 216000}]}}, "branch": {"max_load": {"DN 80": 20000}}, "stack": {"max_load_few": {"DN 80": 48000, "DN 100": 240000}, "max_load_many": {"DN 80": 72000, "DN 100": 500000}}}

given(facts) := {"discharges": [object.union({"id": "d1"}, exact(facts, ["total_load"]))]}

test_pass_building_drain if overloads_receiver.verdict.d1.outcome == "pass" with input as given({"receiver_kind": "building_drain", "receiver_size": "DN 100", "receiver_slope": 10417, "total_load": 60000}) with data.profile as profile

test_fail_building_drain if overloads_receiver.verdict.d1.outcome == "fail" with input as given({"receiver_kind": "building_drain", "receiver_size": "DN 100", "receiver_slope": 10417, "total_load": 400000}) with data.profile as profile

test_pass_building_drain_with_low_stack_stated if overloads_receiver.verdict.d1.outcome == "pass" with input as given({"receiver_kind": "building_drain", "receiver_size": "DN 100", "receiver_slope": 10417, "total_load": 60000, "receiver_branch_intervals": 2}) with data.profile as profile

test_pass_building_drain_with_high_stack_stated if overloads_receiver.verdict.d1.outcome == "pass" with input as given({"receiver_kind": "building_drain", "receiver_size": "DN 100", "receiver_slope": 10417, "total_load": 60000, "receiver_branch_intervals": 5}) with data.profile as profile

test_boundary_building_drain_at_eighth_inch if {
	overloads_receiver.verdict.d1.outcome == "pass" with input as given({"receiver_kind": "building_drain", "receiver_size": "DN 100", "receiver_slope": 10417, "total_load": 180000}) with data.profile as profile
	overloads_receiver.verdict.d1.outcome == "fail" with input as given({"receiver_kind": "building_drain", "receiver_size": "DN 100", "receiver_slope": 10417, "total_load": 180100}) with data.profile as profile
}

test_boundary_building_sewer_at_quarter_inch if {
	overloads_receiver.verdict.d1.outcome == "pass" with input as given({"receiver_kind": "building_sewer", "receiver_size": "DN 100", "receiver_slope": 30000, "total_load": 216000}) with data.profile as profile
	overloads_receiver.verdict.d1.outcome == "fail" with input as given({"receiver_kind": "building_sewer", "receiver_size": "DN 100", "receiver_slope": 30000, "total_load": 216100}) with data.profile as profile
}

test_boundary_branch if {
	overloads_receiver.verdict.d1.outcome == "pass" with input as given({"receiver_kind": "branch", "receiver_size": "DN 80", "receiver_slope": 10417, "total_load": 20000}) with data.profile as profile
	overloads_receiver.verdict.d1.outcome == "fail" with input as given({"receiver_kind": "branch", "receiver_size": "DN 80", "receiver_slope": 10417, "total_load": 20100}) with data.profile as profile
}

test_boundary_stack_of_three_intervals if {
	overloads_receiver.verdict.d1.outcome == "pass" with input as given({"receiver_kind": "stack", "receiver_size": "DN 80", "receiver_slope": 10417, "receiver_branch_intervals": 3, "total_load": 48000}) with data.profile as profile
	overloads_receiver.verdict.d1.outcome == "fail" with input as given({"receiver_kind": "stack", "receiver_size": "DN 80", "receiver_slope": 10417, "receiver_branch_intervals": 3, "total_load": 48100}) with data.profile as profile
}

test_boundary_stack_of_four_intervals if {
	overloads_receiver.verdict.d1.outcome == "pass" with input as given({"receiver_kind": "stack", "receiver_size": "DN 80", "receiver_slope": 10417, "receiver_branch_intervals": 4, "total_load": 72000}) with data.profile as profile
	overloads_receiver.verdict.d1.outcome == "fail" with input as given({"receiver_kind": "stack", "receiver_size": "DN 80", "receiver_slope": 10417, "receiver_branch_intervals": 4, "total_load": 72100}) with data.profile as profile
}

# 3 in stack of any height: IAPMO plumbing code table 703.2, as read in a handout of King County.
test_boundary_stack_of_any_height if {
	overloads_receiver.verdict.d1.outcome == "pass" with input as given({"receiver_kind": "stack", "receiver_size": "DN 80", "receiver_branch_intervals": 4, "total_load": 48000}) with data.profile as {"stack": {"max_load": {"DN 80": 48000}}}
	overloads_receiver.verdict.d1.outcome == "fail" with input as given({"receiver_kind": "stack", "receiver_size": "DN 80", "total_load": 48100}) with data.profile as {"stack": {"max_load": {"DN 80": 48000}}}
}

test_open_load_missing if {
	overloads_receiver.subject.d1 with input as given({"receiver_kind": "building_drain", "receiver_size": "DN 100", "receiver_slope": 10417}) with data.profile as profile
	not overloads_receiver.verdict.d1 with input as given({"receiver_kind": "building_drain", "receiver_size": "DN 100", "receiver_slope": 10417}) with data.profile as profile
}

test_open_slope_missing if {
	overloads_receiver.subject.d1 with input as given({"receiver_kind": "building_drain", "receiver_size": "DN 100", "total_load": 60000}) with data.profile as profile
	not overloads_receiver.verdict.d1 with input as given({"receiver_kind": "building_drain", "receiver_size": "DN 100", "total_load": 60000}) with data.profile as profile
}

test_open_receiver_missing if {
	overloads_receiver.subject.d1 with input as given({"receiver_size": "DN 100", "receiver_slope": 10417, "total_load": 60000}) with data.profile as profile
	not overloads_receiver.verdict.d1 with input as given({"receiver_size": "DN 100", "receiver_slope": 10417, "total_load": 60000}) with data.profile as profile
}

test_open_intervals_missing if {
	overloads_receiver.subject.d1 with input as given({"receiver_kind": "stack", "receiver_size": "DN 80", "receiver_slope": 10417, "total_load": 20000}) with data.profile as profile
	not overloads_receiver.verdict.d1 with input as given({"receiver_kind": "stack", "receiver_size": "DN 80", "receiver_slope": 10417, "total_load": 20000}) with data.profile as profile
}

test_open_flatter_than_the_table if {
	overloads_receiver.subject.d1 with input as given({"receiver_kind": "building_drain", "receiver_size": "DN 100", "receiver_slope": 5000, "total_load": 60000}) with data.profile as profile
	not overloads_receiver.verdict.d1 with input as given({"receiver_kind": "building_drain", "receiver_size": "DN 100", "receiver_slope": 5000, "total_load": 60000}) with data.profile as profile
}

test_open_table_missing if {
	overloads_receiver.subject.d1 with input as given({"receiver_kind": "building_drain", "receiver_size": "DN 100", "receiver_slope": 10417, "total_load": 60000}) with data.profile as {}
	not overloads_receiver.verdict.d1 with input as given({"receiver_kind": "building_drain", "receiver_size": "DN 100", "receiver_slope": 10417, "total_load": 60000}) with data.profile as {}
}

test_not_subject_fixture if count(overloads_receiver.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}

test_review_high_end_overloads if overloads_receiver.verdict.d1.outcome == "review" with input as given({"receiver_kind": "branch", "receiver_size": "DN 80", "receiver_slope": 10417, "total_load": 19000, "total_load_high": 21000}) with data.profile as profile

test_fail_stack_of_any_number_of_few_intervals if {
	every n in [0, 1, 2, 3] {
		overloads_receiver.verdict.d1.outcome == "fail" with input as given({"receiver_kind": "stack", "receiver_size": "DN 80", "receiver_slope": 10417, "receiver_branch_intervals": n, "total_load": 60000}) with data.profile as profile
	}
}
