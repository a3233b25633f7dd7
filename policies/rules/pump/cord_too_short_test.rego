package rules.pump.cord_too_short_test

import data.rules.pump.cord_too_short

given(facts) := {"pumps": [object.union({"id": "p1"}, facts)]}

test_pass_more if cord_too_short.verdict.p1.outcome == "pass" with input as given({"cord_length": 6096000, "receptacle_distance": 3048000})

test_fail_far_less if cord_too_short.verdict.p1.outcome == "fail" with input as given({"cord_length": 1524000, "receptacle_distance": 3048000})

test_boundary_equal if {
	cord_too_short.verdict.p1.outcome == "pass" with input as given({"cord_length": 3048000, "receptacle_distance": 3048000})
	cord_too_short.verdict.p1.outcome == "fail" with input as given({"cord_length": 3047603, "receptacle_distance": 3048000})
}

test_open_cord_length_missing if {
	cord_too_short.subject.p1 with input as given({"receptacle_distance": 3048000})
	not cord_too_short.verdict.p1 with input as given({"receptacle_distance": 3048000})
}

test_open_receptacle_distance_missing if {
	cord_too_short.subject.p1 with input as given({"cord_length": 3048000})
	not cord_too_short.verdict.p1 with input as given({"cord_length": 3048000})
}

test_not_subject_fixture if count(cord_too_short.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
