package rules.drain.joins_near_stack_foot_test

import data.rules.drain.joins_near_stack_foot

# 1.5 m from 30 fixture units or two storeys: Ontario building code 7.4.2.1. of 2024, as read in a reprint.
profile := {"stack": {"base_distance": 1500000, "base_distance_min_load": 30000}}

given := {"id": "d1", "joins_below_stack": true, "distance_from_stack_base": 3000000, "joined_load": 40000}

test_pass_farther_down if outcome(given, profile) == "pass"

test_fail_near if outcome(object.union(given, {"distance_from_stack_base": 500000}), profile) == "fail"

test_boundary_at_the_limit if outcome(object.union(given, {"distance_from_stack_base": 1500000}), profile) == "pass"

test_boundary_a_millimetre_nearer if outcome(object.union(given, {"distance_from_stack_base": 1499000}), profile) == "fail"

test_fail_at_the_least_load if outcome(object.union(given, {"distance_from_stack_base": 500000, "joined_load": 30000}), profile) == "fail"

test_review_light_stack if outcome(object.union(given, {"distance_from_stack_base": 500000, "joined_load": 29500}), profile) == "review"

test_pass_light_stack_in_one_storey if joins_near_stack_foot.verdict.d1.outcome == "pass" with input as {"building": {"storeys": 1}, "drains": [object.union(given, {"distance_from_stack_base": 500000, "joined_load": 10000})]} with data.profile as profile

test_review_light_stack_in_two_storeys if joins_near_stack_foot.verdict.d1.outcome == "review" with input as {"building": {"storeys": 2}, "drains": [object.union(given, {"distance_from_stack_base": 500000, "joined_load": 10000})]} with data.profile as profile

test_open_without_distance if open(object.remove(given, ["distance_from_stack_base"]), profile)

test_open_without_table if open(given, {})

test_not_subject_without_stack if not is_subject(object.union(given, {"joins_below_stack": false}))

test_open_near_without_load if open(object.remove(object.union(given, {"distance_from_stack_base": 500000}), ["joined_load"]), profile)

test_pass_far_in_one_storey if joins_near_stack_foot.verdict.d1.outcome == "pass" with input as {"building": {"storeys": 1}, "drains": [object.union(given, {"joined_load": 10000})]} with data.profile as profile

test_pass_far_in_two_storeys if joins_near_stack_foot.verdict.d1.outcome == "pass" with input as {"building": {"storeys": 2}, "drains": [object.union(given, {"joined_load": 10000})]} with data.profile as profile

test_fail_near_a_heavy_stack_in_one_storey if joins_near_stack_foot.verdict.d1.outcome == "fail" with input as {"building": {"storeys": 1}, "drains": [object.union(given, {"distance_from_stack_base": 500000})]} with data.profile as profile

outcome(d, p) := o if {
	o := joins_near_stack_foot.verdict[d.id].outcome with input as {"drains": [d]} with data.profile as p
}

open(d, p) if {
	joins_near_stack_foot.subject[d.id] with input as {"drains": [d]} with data.profile as p
	not joins_near_stack_foot.verdict[d.id] with input as {"drains": [d]} with data.profile as p
}

is_subject(d) if joins_near_stack_foot.subject[d.id] with input as {"drains": [d]} with data.profile as profile
