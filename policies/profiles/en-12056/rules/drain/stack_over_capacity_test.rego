package rules.drain.stack_over_capacity_test

import data.rules.drain.stack_over_capacity

# DN 100: 4.0 L/s with square, 5.2 L/s with swept entries, EN 12056-2 table 11, from memory.
profile := {"stack": {"max_flow": {"DN 100": {"square": 4000, "swept": 5200}}}}

given := {"id": "d1", "role": "stack", "size": "DN 100", "design_flow": 2000}

test_pass_small_flow if outcome(given, profile) == "pass"

test_boundary_square if outcome(object.union(given, {"design_flow": 4000}), profile) == "pass"

test_review_between if outcome(object.union(given, {"design_flow": 4001}), profile) == "review"

test_review_at_the_swept_figure if outcome(object.union(given, {"design_flow": 5200}), profile) == "review"

test_boundary_swept_over if outcome(object.union(given, {"design_flow": 5201}), profile) == "fail"

test_fail_large_flow if outcome(object.union(given, {"design_flow": 9000}), profile) == "fail"

test_open_without_flow if open(object.remove(given, ["design_flow"]), profile)

test_open_without_entry if open(object.union(given, {"size": "DN 300"}), profile)

test_not_subject_branch if not is_subject(object.union(given, {"role": "branch"}))

outcome(d, p) := o if {
	o := stack_over_capacity.verdict[d.id].outcome with input as {"drains": [d]} with data.profile as p
}

open(d, p) if {
	stack_over_capacity.subject[d.id] with input as {"drains": [d]} with data.profile as p
	not stack_over_capacity.verdict[d.id] with input as {"drains": [d]} with data.profile as p
}

is_subject(d) if stack_over_capacity.subject[d.id] with input as {"drains": [d]} with data.profile as profile
