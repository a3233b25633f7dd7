package rules.basin.vent_too_small_for_load_test

import data.rules.basin.vent_too_small_for_load

# 1-1/2 in: 8 units and 60 ft, 2 in: 24 units and 120 ft, IAPMO plumbing code table 703.2 as a handout of King County has it.
profile := {"vent": {"max_load": {"DN 40": 8000, "DN 50": 24000}, "max_length": {"DN 40": 18288000, "DN 50": 36576000}}}

given := {"id": "s1", "has_vent": true, "vent_dn": 40, "load": 5000, "vent_length": 6096000}

test_pass_light_and_short if outcome(given, profile) == "pass"

test_fail_heavy if outcome(object.union(given, {"load": 20000}), profile) == "fail"

test_fail_long if outcome(object.union(given, {"vent_length": 30480000}), profile) == "fail"

test_boundary_load_at_the_limit if outcome(object.union(given, {"load": 8000}), profile) == "pass"

test_boundary_load_over if outcome(object.union(given, {"load": 8500}), profile) == "fail"

test_boundary_length_at_the_limit if outcome(object.union(given, {"vent_length": 18288000}), profile) == "pass"

test_boundary_length_over if outcome(object.union(given, {"vent_length": 18288397}), profile) == "fail"

test_pass_larger if outcome(object.union(given, {"load": 20000, "vent_dn": 50}), profile) == "pass"

test_open_without_load if open(object.remove(given, ["load"]), profile)

test_open_without_length if open(object.remove(given, ["vent_length"]), profile)

test_open_without_size if open(object.remove(given, ["vent_dn"]), profile)

test_open_beyond_the_table if open(object.union(given, {"load": 90000}), profile)

test_not_subject_without_vent if not is_subject(object.union(given, {"has_vent": false}))

# 1-1/4 in: 1 unit and 45 ft, the smallest vent of the table.
test_boundary_smallest_vent if {
	smallest := object.union(profile, {"vent": {"max_load": {"DN 32": 1000}, "max_length": {"DN 32": 13716000}}})
	outcome(object.union(given, {"vent_dn": 32, "load": 1000, "vent_length": 13716000}), smallest) == "pass"
	outcome(object.union(given, {"vent_dn": 32, "load": 1500, "vent_length": 13716000}), smallest) == "fail"
	outcome(object.union(given, {"vent_dn": 32, "load": 1000, "vent_length": 13716397}), smallest) == "fail"
}

outcome(d, p) := o if {
	o := vent_too_small_for_load.verdict[d.id].outcome with input as {"basins": [d]} with data.profile as p
}

open(d, p) if {
	vent_too_small_for_load.subject[d.id] with input as {"basins": [d]} with data.profile as p
	not vent_too_small_for_load.verdict[d.id] with input as {"basins": [d]} with data.profile as p
}

is_subject(d) if vent_too_small_for_load.subject[d.id] with input as {"basins": [d]} with data.profile as profile
