package rules.drain.closet_pipe_under_four_inches_test

import data.rules.drain.closet_pipe_under_four_inches

# 4 in; 3 in up to three storeys, 48 units, six closets on a stack, three on a branch: Chicago plumbing
# code 18-29-710, as read in a stored copy.
profile := {"drain": {"min_size_with_water_closet": 100}, "small_closet_drain": {"size": 80, "max_storeys": 3, "max_load": 48000}, "stack": {"max_water_closets": {"DN 80": 6}}, "branch": {"max_water_closets": {"DN 80": 3}}}

given(building, facts) := {"building": building, "drains": [object.union({"id": "r1"}, facts)]}

test_pass_four_inch_in_a_low_building if closet_pipe_under_four_inches.verdict.r1.outcome == "pass" with input as given({"storeys": 3}, {"role": "branch", "water_closets": 1, "dn": 100, "size": "DN 100", "load": 10000}) with data.profile as {"drain": {"min_size_with_water_closet": 100}, "small_closet_drain": {"size": 80, "max_storeys": 3, "max_load": 48000}, "stack": {"max_water_closets": {"DN 80": 6}}, "branch": {"max_water_closets": {"DN 80": 3, "DN 100": 9}}}

test_pass_four_inch if closet_pipe_under_four_inches.verdict.r1.outcome == "pass" with input as given({"storeys": 12}, {"role": "branch", "water_closets": 2, "dn": 100, "size": "DN 100", "load": 10000}) with data.profile as profile

test_pass_three_inch_branch_in_a_low_building if closet_pipe_under_four_inches.verdict.r1.outcome == "pass" with input as given({"storeys": 3}, {"role": "branch", "water_closets": 2, "dn": 80, "size": "DN 80", "load": 10000}) with data.profile as profile

test_pass_three_inch_stack_in_a_low_building if closet_pipe_under_four_inches.verdict.r1.outcome == "pass" with input as given({"storeys": 3}, {"role": "stack", "water_closets": 6, "dn": 80, "size": "DN 80", "load": 40000}) with data.profile as profile

test_fail_two_inch if closet_pipe_under_four_inches.verdict.r1.outcome == "fail" with input as given({"storeys": 3}, {"role": "branch", "water_closets": 2, "dn": 50, "size": "DN 50", "load": 10000}) with data.profile as profile

test_fail_three_inch_in_a_high_building if closet_pipe_under_four_inches.verdict.r1.outcome == "fail" with input as given({"storeys": 12}, {"role": "branch", "water_closets": 2, "dn": 80, "size": "DN 80", "load": 10000}) with data.profile as profile

test_fail_high_building_is_enough if closet_pipe_under_four_inches.verdict.r1.outcome == "fail" with input as given({"storeys": 4}, {"role": "branch", "water_closets": 2, "dn": 80, "size": "DN 80"}) with data.profile as profile

test_boundary_storeys if {
	closet_pipe_under_four_inches.verdict.r1.outcome == "pass" with input as given({"storeys": 3}, {"role": "branch", "water_closets": 2, "dn": 80, "size": "DN 80", "load": 10000}) with data.profile as profile
	closet_pipe_under_four_inches.verdict.r1.outcome == "fail" with input as given({"storeys": 4}, {"role": "branch", "water_closets": 2, "dn": 80, "size": "DN 80", "load": 10000}) with data.profile as profile
}

test_boundary_load if {
	closet_pipe_under_four_inches.verdict.r1.outcome == "pass" with input as given({"storeys": 3}, {"role": "branch", "water_closets": 2, "dn": 80, "size": "DN 80", "load": 48000}) with data.profile as profile
	closet_pipe_under_four_inches.verdict.r1.outcome == "fail" with input as given({"storeys": 3}, {"role": "branch", "water_closets": 2, "dn": 80, "size": "DN 80", "load": 48500}) with data.profile as profile
}

test_boundary_closets_on_a_branch if {
	closet_pipe_under_four_inches.verdict.r1.outcome == "pass" with input as given({"storeys": 3}, {"role": "branch", "water_closets": 3, "dn": 80, "size": "DN 80", "load": 10000}) with data.profile as profile
	closet_pipe_under_four_inches.verdict.r1.outcome == "fail" with input as given({"storeys": 3}, {"role": "branch", "water_closets": 4, "dn": 80, "size": "DN 80", "load": 10000}) with data.profile as profile
}

test_boundary_closets_on_a_stack if {
	closet_pipe_under_four_inches.verdict.r1.outcome == "pass" with input as given({"storeys": 3}, {"role": "stack", "water_closets": 6, "dn": 80, "size": "DN 80", "load": 10000}) with data.profile as profile
	closet_pipe_under_four_inches.verdict.r1.outcome == "fail" with input as given({"storeys": 3}, {"role": "stack", "water_closets": 7, "dn": 80, "size": "DN 80", "load": 10000}) with data.profile as profile
}

test_boundary_size if {
	closet_pipe_under_four_inches.verdict.r1.outcome == "pass" with input as given({"storeys": 4}, {"role": "branch", "water_closets": 2, "dn": 100, "size": "DN 100", "load": 10000}) with data.profile as profile
	closet_pipe_under_four_inches.verdict.r1.outcome == "fail" with input as given({"storeys": 4}, {"role": "branch", "water_closets": 2, "dn": 80, "size": "DN 80", "load": 10000}) with data.profile as profile
}

test_open_size_missing if {
	closet_pipe_under_four_inches.subject.r1 with input as given({"storeys": 3}, {"role": "branch", "water_closets": 2, "load": 10000}) with data.profile as profile
	not closet_pipe_under_four_inches.verdict.r1 with input as given({"storeys": 3}, {"role": "branch", "water_closets": 2, "load": 10000}) with data.profile as profile
}

test_open_storeys_missing if {
	closet_pipe_under_four_inches.subject.r1 with input as given({}, {"role": "branch", "water_closets": 2, "dn": 80, "size": "DN 80", "load": 10000}) with data.profile as profile
	not closet_pipe_under_four_inches.verdict.r1 with input as given({}, {"role": "branch", "water_closets": 2, "dn": 80, "size": "DN 80", "load": 10000}) with data.profile as profile
}

test_open_load_missing if {
	closet_pipe_under_four_inches.subject.r1 with input as given({"storeys": 3}, {"role": "branch", "water_closets": 2, "dn": 80, "size": "DN 80"}) with data.profile as profile
	not closet_pipe_under_four_inches.verdict.r1 with input as given({"storeys": 3}, {"role": "branch", "water_closets": 2, "dn": 80, "size": "DN 80"}) with data.profile as profile
}

test_open_table_missing if {
	closet_pipe_under_four_inches.subject.r1 with input as given({"storeys": 3}, {"role": "branch", "water_closets": 2, "dn": 80, "size": "DN 80", "load": 10000}) with data.profile as {}
	not closet_pipe_under_four_inches.verdict.r1 with input as given({"storeys": 3}, {"role": "branch", "water_closets": 2, "dn": 80, "size": "DN 80", "load": 10000}) with data.profile as {}
}

# 3 in for a building drain: ICC plumbing code table 710.1(1), footnote, from memory.
house_drain(facts) := given({"storeys": 12}, object.union({"role": "building_drain", "water_closets": 2, "dn": 80, "size": "DN 80", "load": 60000}, facts))

with_house_drain := object.union(profile, {"building_drain": {"min_size_with_water_closet": 80}})

test_boundary_building_drain if {
	closet_pipe_under_four_inches.verdict.r1.outcome == "pass" with input as house_drain({}) with data.profile as with_house_drain
	closet_pipe_under_four_inches.verdict.r1.outcome == "fail" with input as house_drain({"dn": 79}) with data.profile as with_house_drain
}

test_fail_building_sewer if closet_pipe_under_four_inches.verdict.r1.outcome == "fail" with input as house_drain({"role": "building_sewer", "dn": 65, "size": "DN 65"}) with data.profile as with_house_drain

test_open_building_drain_without_figure if {
	closet_pipe_under_four_inches.subject.r1 with input as house_drain({}) with data.profile as profile
	not closet_pipe_under_four_inches.verdict.r1 with input as house_drain({}) with data.profile as profile
}

test_not_subject_no_closets if not closet_pipe_under_four_inches.subject.r1 with input as given({"storeys": 3}, {"role": "branch", "water_closets": 0, "dn": 80, "size": "DN 80", "load": 10000}) with data.profile as profile

test_fail_three_inch_building_sewer if closet_pipe_under_four_inches.verdict.r1.outcome == "fail" with input as given({"storeys": 2}, {"role": "building_sewer", "water_closets": 1, "dn": 80, "size": "DN 80", "load": 4000}) with data.profile as object.union(profile, {"building_drain": {"min_size_with_water_closet": 100}})
