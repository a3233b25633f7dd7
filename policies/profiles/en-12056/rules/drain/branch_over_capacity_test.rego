package rules.drain.branch_over_capacity_test

import data.rules.drain.branch_over_capacity

# DN 50: 0.8 L/s; DN 70: 1.5 L/s, vented 2.25 L/s: EN 12056-2 tables 4 and 7, from memory.
profile := {"branch": {"max_flow": {"DN 50": 800, "DN 70": 1500}, "max_flow_vented": {"DN 70": 2250}}}

given := {"id": "d1", "role": "branch", "lie": "horizontal", "size": "DN 70", "design_flow": 1000}

test_pass_small_flow if outcome(given, profile) == "pass"

test_boundary_unvented if outcome(object.union(given, {"design_flow": 1500}), profile) == "pass"

test_review_between if outcome(object.union(given, {"design_flow": 1501}), profile) == "review"

test_review_at_the_vented_figure if outcome(object.union(given, {"design_flow": 2250}), profile) == "review"

test_boundary_vented_over if outcome(object.union(given, {"design_flow": 2251}), profile) == "fail"

test_fail_large_flow if outcome(object.union(given, {"design_flow": 5000}), profile) == "fail"

test_fail_without_a_vented_figure if outcome(object.union(given, {"size": "DN 50", "design_flow": 900}), profile) == "fail"

test_open_without_flow if open(object.remove(given, ["design_flow"]), profile)

test_open_without_size if open(object.remove(given, ["size"]), profile)

test_open_without_entry if open(object.union(given, {"size": "DN 300"}), profile)

test_not_subject_stack if not is_subject(object.union(given, {"role": "stack"}))

test_not_subject_vertical if not is_subject(object.union(given, {"lie": "vertical"}))

test_pass_fixture_drain if outcome(object.union(given, {"role": "fixture_drain"}), profile) == "pass"

# A table may have a vented figure under the unvented one, as DN 50 does.
test_pass_by_the_unvented_figure_where_it_is_the_larger if outcome(object.union(given, {"size": "DN 50", "design_flow": 780}), object.union(profile, {"branch": {"max_flow_vented": {"DN 50": 750}}})) == "pass"

outcome(d, p) := o if {
	o := branch_over_capacity.verdict[d.id].outcome with input as {"drains": [d]} with data.profile as p
}

open(d, p) if {
	branch_over_capacity.subject[d.id] with input as {"drains": [d]} with data.profile as p
	not branch_over_capacity.verdict[d.id] with input as {"drains": [d]} with data.profile as p
}

is_subject(d) if branch_over_capacity.subject[d.id] with input as {"drains": [d]} with data.profile as profile
