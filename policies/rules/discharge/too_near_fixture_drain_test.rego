package rules.discharge.too_near_fixture_drain_test

import data.rules.discharge.too_near_fixture_drain

# 10 diameters: New York City plumbing code 712.3.5; 10 ft: Chicago plumbing code 18-29-712.3; both
# as read in stored copies.
profile := {"discharge": {"stack_base_distance_diameters": 10}}

given(facts) := {"discharges": [object.union({"id": "d1", "no_fixture_drain_upstream": false}, facts)]}

test_pass_far if too_near_fixture_drain.verdict.d1.outcome == "pass" with input as given({"receiver_lie": "horizontal", "receiver_diameter": 101600, "distance_from_fixture_drain": 3048000}) with data.profile as profile

test_fail_near if too_near_fixture_drain.verdict.d1.outcome == "fail" with input as given({"receiver_lie": "horizontal", "receiver_diameter": 101600, "distance_from_fixture_drain": 304800}) with data.profile as profile

test_boundary_at_ten_diameters if {
	too_near_fixture_drain.verdict.d1.outcome == "pass" with input as given({"receiver_lie": "horizontal", "receiver_diameter": 101600, "distance_from_fixture_drain": 1016000}) with data.profile as profile
	too_near_fixture_drain.verdict.d1.outcome == "fail" with input as given({"receiver_lie": "horizontal", "receiver_diameter": 101600, "distance_from_fixture_drain": 1015603}) with data.profile as profile
}

test_boundary_at_ten_feet if {
	too_near_fixture_drain.verdict.d1.outcome == "pass" with input as given({"receiver_lie": "horizontal", "receiver_diameter": 101600, "distance_from_fixture_drain": 3048000}) with data.profile as {"discharge": {"stack_base_distance": 3048000}}
	too_near_fixture_drain.verdict.d1.outcome == "fail" with input as given({"receiver_lie": "horizontal", "receiver_diameter": 101600, "distance_from_fixture_drain": 3047603}) with data.profile as {"discharge": {"stack_base_distance": 3048000}}
}

test_pass_no_fixture_drain_upstream if {
	too_near_fixture_drain.verdict.d1.outcome == "pass" with input as given({"receiver_lie": "horizontal", "receiver_diameter": 101600, "no_fixture_drain_upstream": true}) with data.profile as profile
}

test_open_distance_missing if {
	too_near_fixture_drain.subject.d1 with input as given({"receiver_lie": "horizontal", "receiver_diameter": 101600}) with data.profile as profile
	not too_near_fixture_drain.verdict.d1 with input as given({"receiver_lie": "horizontal", "receiver_diameter": 101600}) with data.profile as profile
}

test_open_size_missing if {
	too_near_fixture_drain.subject.d1 with input as given({"receiver_lie": "horizontal", "distance_from_fixture_drain": 3048000}) with data.profile as profile
	not too_near_fixture_drain.verdict.d1 with input as given({"receiver_lie": "horizontal", "distance_from_fixture_drain": 3048000}) with data.profile as profile
}

test_open_lie_missing if {
	too_near_fixture_drain.subject.d1 with input as given({"receiver_diameter": 101600, "distance_from_fixture_drain": 3048000}) with data.profile as profile
	not too_near_fixture_drain.verdict.d1 with input as given({"receiver_diameter": 101600, "distance_from_fixture_drain": 3048000}) with data.profile as profile
}

test_open_table_missing if {
	too_near_fixture_drain.subject.d1 with input as given({"receiver_lie": "horizontal", "receiver_diameter": 101600, "distance_from_fixture_drain": 3048000}) with data.profile as {}
	not too_near_fixture_drain.verdict.d1 with input as given({"receiver_lie": "horizontal", "receiver_diameter": 101600, "distance_from_fixture_drain": 3048000}) with data.profile as {}
}

test_not_subject_stack if not too_near_fixture_drain.subject.d1 with input as given({"receiver_lie": "vertical", "receiver_diameter": 101600, "distance_from_fixture_drain": 0}) with data.profile as profile

test_pass_none_upstream_whatever_the_distance if too_near_fixture_drain.verdict.d1.outcome == "pass" with input as given({"receiver_lie": "horizontal", "receiver_diameter": 101600, "no_fixture_drain_upstream": true, "distance_from_fixture_drain": 304800}) with data.profile as profile

test_open_none_upstream_of_a_drain_whose_lie_is_not_stated if {
	too_near_fixture_drain.subject.d1 with input as given({"no_fixture_drain_upstream": true}) with data.profile as profile
	not too_near_fixture_drain.verdict.d1 with input as given({"no_fixture_drain_upstream": true}) with data.profile as profile
}
