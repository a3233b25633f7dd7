package rules.drain.joins_near_stack_base_test

import data.rules.drain.joins_near_stack_base

profile := {"stack": {"base_distance_diameters": 10}}

given := {"id": "b1", "role": "branch", "lie": "horizontal", "joins_below_stack": true, "distance_from_stack_base": 914400, "joined_diameter": 76200}

test_pass_farther_down if outcome(given, profile) == "pass"

test_fail_at_the_base if outcome(object.union(given, {"distance_from_stack_base": 304800}), profile) == "fail"

# Ten diameters of a 3 in drain are 30 in: Chicago plumbing code 18-29-704.3, as read in a stored copy.
test_boundary_at_the_limit if outcome(object.union(given, {"distance_from_stack_base": 762000}), profile) == "pass"

test_boundary_a_64th_nearer if outcome(object.union(given, {"distance_from_stack_base": 761603}), profile) == "fail"

test_open_without_distance if open(object.remove(given, ["distance_from_stack_base"]), profile)

test_open_without_the_size_of_the_drain_it_joins if open(object.remove(given, ["joined_diameter"]), profile)

test_open_without_table if open(given, {})

test_not_subject_where_no_stack_stands_upstream if not is_subject(object.union(given, {"joins_below_stack": false}))

outcome(d, p) := o if {
	o := joins_near_stack_base.verdict[d.id].outcome with input as {"drains": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not joins_near_stack_base.verdict[d.id] with input as {"drains": [d]} with data.profile as p
}

is_subject(d) if joins_near_stack_base.subject[d.id] with input as {"drains": [d]}
