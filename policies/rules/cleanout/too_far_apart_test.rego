package rules.cleanout.too_far_apart_test

import data.rules.cleanout.too_far_apart

profile := {"cleanout": {"max_spacing": 30480000}}

given := {"id": "b3", "role": "building_drain", "size": "DN 100", "length": 15240000}

test_pass_when_near if outcome(given, profile) == "pass"

test_fail_when_far if outcome(object.union(given, {"length": 36576000}), profile) == "fail"

# 100 ft: ICC plumbing code 708.1.1, from memory.
test_boundary_at_the_limit if outcome(object.union(given, {"length": 30480000}), profile) == "pass"

test_boundary_a_64th_over if outcome(object.union(given, {"length": 30480397}), profile) == "fail"

test_boundary_at_the_limit_of_its_size if outcome(object.union(given, {"length": 15240000}), object.union(profile, {"cleanout": {"max_spacing_by_size": {"DN 100": 15240000}}})) == "pass"

test_boundary_a_64th_over_the_limit_of_its_size if outcome(object.union(given, {"length": 15240397}), object.union(profile, {"cleanout": {"max_spacing_by_size": {"DN 100": 15240000}}})) == "fail"

test_open_without_length if open(object.remove(given, ["length"]), profile)

test_open_without_table if open(given, json.remove(profile, ["cleanout/max_spacing"]))

test_open_without_entry_for_its_size if open(given, object.union(profile, {"cleanout": {"max_spacing_by_size": {"DN 80": 15240000}}}))

test_open_without_size_where_it_counts if open(object.remove(given, ["size"]), object.union(profile, {"cleanout": {"max_spacing_by_size": {"DN 80": 15240000}}}))

test_not_subject_when_there_is_no_run if count(too_far_apart.subject) == 0 with input as {"cleanout_runs": []}

outcome(d, p) := o if {
	o := too_far_apart.verdict[d.id].outcome with input as {"cleanout_runs": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not too_far_apart.verdict[d.id] with input as {"cleanout_runs": [d]} with data.profile as p
}

is_subject(d) if too_far_apart.subject[d.id] with input as {"cleanout_runs": [d]}
