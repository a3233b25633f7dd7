package rules.basin.too_small_for_two_pumps_test

import data.rules.basin.too_small_for_two_pumps

# 30 in: Wisconsin SPS 382.30 (10) (a) 2. e., from memory.
profile := {"basin": {"min_diameter_two_pumps": 762000}}

given := {"id": "s1", "pumps": 2, "diameter": 914400}

test_pass_wider if outcome(given, profile) == "pass"

test_fail_narrower if outcome(object.union(given, {"diameter": 609600}), profile) == "fail"

test_boundary_at_the_limit if outcome(object.union(given, {"diameter": 762000}), profile) == "pass"

test_boundary_a_64th_under if outcome(object.union(given, {"diameter": 761603}), profile) == "fail"

test_open_without_diameter if open(object.remove(given, ["diameter"]), profile)

test_open_without_table if open(given, {})

test_not_subject_with_one_pump if not is_subject(object.union(given, {"pumps": 1}))

test_three_pumps_are_subject if is_subject(object.union(given, {"pumps": 3}))

outcome(d, p) := o if {
	o := too_small_for_two_pumps.verdict[d.id].outcome with input as {"basins": [d]} with data.profile as p
}

open(d, p) if {
	too_small_for_two_pumps.subject[d.id] with input as {"basins": [d]} with data.profile as p
	not too_small_for_two_pumps.verdict[d.id] with input as {"basins": [d]} with data.profile as p
}

is_subject(d) if too_small_for_two_pumps.subject[d.id] with input as {"basins": [d]} with data.profile as profile
