package rules.basin.vent_too_small_for_drain_test

import data.rules.basin.vent_too_small_for_drain

# One size under the drain: Ontario building code 7.5.7.7., from memory. Below 3 in comes 2-1/2 in.
profile := {"basin": {"vent_min_size": 40}}

given := {"id": "s1", "has_vent": true, "vent_dn": 80, "largest_drain_dn": 80}

test_pass_as_large if outcome(given, profile) == "pass"

test_fail_much_smaller if outcome(object.union(given, {"vent_dn": 40}), profile) == "fail"

test_boundary_one_size_under if outcome(object.union(given, {"vent_dn": 65}), profile) == "pass"

test_boundary_two_sizes_under if outcome(object.union(given, {"vent_dn": 50}), profile) == "fail"

test_fail_under_the_least_size if outcome(object.union(given, {"vent_dn": 32, "largest_drain_dn": 40}), profile) == "fail"

test_open_without_size if open(object.remove(given, ["vent_dn"]), profile)

test_open_without_drain if open(object.remove(given, ["largest_drain_dn"]), profile)

test_open_without_table if open(given, {})

test_not_subject_without_vent if not is_subject(object.union(given, {"has_vent": false}))

test_boundary_of_every_size if {
	every pair in [[40, 32], [50, 40], [65, 50], [80, 65], [100, 80], [125, 100], [150, 125], [200, 150], [225, 200]] {
		outcome(object.union(given, {"largest_drain_dn": pair[0], "vent_dn": pair[1]}), {"basin": {"vent_min_size": 32}}) == "pass"
		outcome(object.union(given, {"largest_drain_dn": pair[0], "vent_dn": pair[1] - 1}), {"basin": {"vent_min_size": 20}}) == "fail"
	}
}

outcome(d, p) := o if {
	o := vent_too_small_for_drain.verdict[d.id].outcome with input as {"basins": [d]} with data.profile as p
}

open(d, p) if {
	vent_too_small_for_drain.subject[d.id] with input as {"basins": [d]} with data.profile as p
	not vent_too_small_for_drain.verdict[d.id] with input as {"basins": [d]} with data.profile as p
}

is_subject(d) if vent_too_small_for_drain.subject[d.id] with input as {"basins": [d]} with data.profile as profile
