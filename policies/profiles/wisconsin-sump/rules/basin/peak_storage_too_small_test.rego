package rules.basin.peak_storage_too_small_test

import data.rules.basin.peak_storage_too_small

# Five minutes: Wisconsin SPS 382.30 (10) (a) 2. c. 0.1 L/s more than the pump lifts are 30 L in that time.
profile := {"basin": {"peak_period": 300000}}

given := {"id": "s1", "peak_inflow": 2100, "pump_rate": 2000, "storage_above_start": 60000}

test_pass_room_enough if outcome(given, profile) == "pass"

test_fail_no_room if outcome(object.union(given, {"storage_above_start": 10000}), profile) == "fail"

test_boundary_at_the_limit if outcome(object.union(given, {"storage_above_start": 30000}), profile) == "pass"

test_boundary_a_litre_under if outcome(object.union(given, {"storage_above_start": 29000}), profile) == "fail"

test_pass_when_one_pump_lifts_the_peak if outcome(object.union(given, {"pump_rate": 2500, "storage_above_start": 0}), profile) == "pass"

test_open_without_storage if open(object.remove(given, ["storage_above_start"]), profile)

test_open_without_inflow if open(object.remove(given, ["peak_inflow"]), profile)

test_open_without_rate if open(object.remove(given, ["pump_rate"]), profile)

test_open_without_period if open(given, {})

test_not_subject_without_basin if count(peak_storage_too_small.subject) == 0 with input as {"basins": []}

outcome(d, p) := o if {
	o := peak_storage_too_small.verdict[d.id].outcome with input as {"basins": [d]} with data.profile as p
}

open(d, p) if {
	peak_storage_too_small.subject[d.id] with input as {"basins": [d]} with data.profile as p
	not peak_storage_too_small.verdict[d.id] with input as {"basins": [d]} with data.profile as p
}
