package rules.basin.low_water_too_low_test

import data.rules.basin.low_water_too_low

# 4 in: Wisconsin SPS 382.30 (10) (a) 2. d., as read in a stored copy.
profile := {"basin": {"low_water": 101600}}

given := {"id": "s1", "stop_level": 152400}

test_pass_higher if outcome(given, profile) == "pass"

test_fail_lower if outcome(object.union(given, {"stop_level": 50800}), profile) == "fail"

test_boundary_at_the_limit if outcome(object.union(given, {"stop_level": 101600}), profile) == "pass"

test_boundary_a_64th_under if outcome(object.union(given, {"stop_level": 101203}), profile) == "fail"

test_open_without_stop if open(object.remove(given, ["stop_level"]), profile)

test_open_without_table if open(given, {})

test_not_subject_without_basin if count(low_water_too_low.subject) == 0 with input as {"basins": []}

outcome(d, p) := o if {
	o := low_water_too_low.verdict[d.id].outcome with input as {"basins": [d]} with data.profile as p
}

open(d, p) if {
	low_water_too_low.subject[d.id] with input as {"basins": [d]} with data.profile as p
	not low_water_too_low.verdict[d.id] with input as {"basins": [d]} with data.profile as p
}
