package rules.air_admittance.on_basin_test

import data.rules.air_admittance.on_basin

given(facts) := {"air_admittance_valves": [object.union({"id": "v1"}, facts)]}

test_pass_engineered if on_basin.verdict.v1.outcome == "pass" with input as given({"serves_basin": true, "engineered": true})

test_fail_on_a_basin if on_basin.verdict.v1.outcome == "fail" with input as given({"serves_basin": true, "engineered": false})

test_open_engineered_missing if {
	on_basin.subject.v1 with input as given({"serves_basin": true})
	not on_basin.verdict.v1 with input as given({"serves_basin": true})
}

test_not_subject_serves_drains if not on_basin.subject.v1 with input as given({"serves_basin": false, "engineered": false})
