package rules.drain.too_small_for_role_test

import data.rules.drain.too_small_for_role

# 4 in building sewer: Ontario building code 7.4.9.4., from memory.
profile := {"drain": {"min_size_by_role": {"building_sewer": 100}}}

given := {"id": "d1", "role": "building_sewer", "dn": 150}

test_pass_larger if outcome(given, profile) == "pass"

test_fail_smaller if outcome(object.union(given, {"dn": 50}), profile) == "fail"

test_boundary_at_the_limit if outcome(object.union(given, {"dn": 100}), profile) == "pass"

test_boundary_a_size_under if outcome(object.union(given, {"dn": 80}), profile) == "fail"

test_open_without_size if open(object.remove(given, ["dn"]), profile)

test_not_subject_in_a_role_without_a_figure if not is_subject(object.union(given, {"role": "branch"}))

outcome(d, p) := o if {
	o := too_small_for_role.verdict[d.id].outcome with input as {"drains": [d]} with data.profile as p
}

open(d, p) if {
	too_small_for_role.subject[d.id] with input as {"drains": [d]} with data.profile as p
	not too_small_for_role.verdict[d.id] with input as {"drains": [d]} with data.profile as p
}

is_subject(d) if too_small_for_role.subject[d.id] with input as {"drains": [d]} with data.profile as profile
