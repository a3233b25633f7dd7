package rules.discharge.rating_margin_too_small_test

import data.rules.discharge.rating_margin_too_small

# One and a half times: EN 12056-4 5.2, from memory.
profile := {"discharge": {"min_pressure_factor": 1500}}

given := {"id": "m", "rating_stated": true, "least_rating": 600000, "pump_pressure": 100000}

test_pass_more if outcome(given, profile) == "pass"

test_fail_less if outcome(object.union(given, {"least_rating": 100000}), profile) == "fail"

test_boundary_at_the_limit if outcome(object.union(given, {"least_rating": 150000}), profile) == "pass"

test_boundary_under if outcome(object.union(given, {"least_rating": 149000}), profile) == "fail"

test_open_without_rating if open(object.union(given, {"rating_stated": false}), profile)

test_open_without_pressure if open(object.remove(given, ["pump_pressure"]), profile)

test_open_without_table if open(given, {})

test_not_subject_without_line if count(rating_margin_too_small.subject) == 0 with input as {"discharges": []}

outcome(d, p) := o if {
	o := rating_margin_too_small.verdict[d.id].outcome with input as {"discharges": [d]} with data.profile as p
}

open(d, p) if {
	rating_margin_too_small.subject[d.id] with input as {"discharges": [d]} with data.profile as p
	not rating_margin_too_small.verdict[d.id] with input as {"discharges": [d]} with data.profile as p
}
