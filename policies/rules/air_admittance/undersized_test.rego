package rules.air_admittance.undersized_test

import data.rules.air_admittance.undersized

given(facts) := {"air_admittance_valves": [object.union({"id": "v1", "serves_basin": false, "fixtures": 1}, facts)]}

test_pass_more if undersized.verdict.v1.outcome == "pass" with input as given({"rating": 40000, "load": 20000})

test_fail_far_less if undersized.verdict.v1.outcome == "fail" with input as given({"rating": 10000, "load": 20000})

test_boundary_equal if {
	undersized.verdict.v1.outcome == "pass" with input as given({"rating": 20000, "load": 20000})
	undersized.verdict.v1.outcome == "fail" with input as given({"rating": 19900, "load": 20000})
}

test_open_rating_missing if {
	undersized.subject.v1 with input as given({"load": 20000})
	not undersized.verdict.v1 with input as given({"load": 20000})
}

test_open_load_missing if {
	undersized.subject.v1 with input as given({"rating": 20000})
	not undersized.verdict.v1 with input as given({"rating": 20000})
}

test_not_subject_fixture if count(undersized.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}

test_not_subject_on_a_basin_alone if count(undersized.subject) == 0 with input as given({"serves_basin": true, "fixtures": 0})

test_pass_on_a_basin_with_drains if undersized.verdict.v1.outcome == "pass" with input as given({"serves_basin": true, "rating": 40000, "load": 20000})

test_no_fixture_upstream_is_a_subject if undersized.subject.v1 with input as given({"serves_basin": false, "fixtures": 0, "rating": 20000, "load": 0})
