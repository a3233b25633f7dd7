package rules.discharge.receiver_not_permitted_test

import data.rules.discharge.receiver_not_permitted

# Building sewer or building drain: Chicago plumbing code 18-29-712.3, as read in a stored copy.
profile := {"discharge": {"receivers": ["building_sewer", "building_drain"]}}

given(facts) := {"discharges": [object.union({"id": "d1"}, facts)]}

test_pass_building_drain if receiver_not_permitted.verdict.d1.outcome == "pass" with input as given({"receiver_kind": "building_drain"}) with data.profile as profile

test_fail_branch if receiver_not_permitted.verdict.d1.outcome == "fail" with input as given({"receiver_kind": "branch"}) with data.profile as profile

test_open_receiver_missing if {
	receiver_not_permitted.subject.d1 with input as given({}) with data.profile as profile
	not receiver_not_permitted.verdict.d1 with input as given({}) with data.profile as profile
}

test_open_table_missing if {
	receiver_not_permitted.subject.d1 with input as given({"receiver_kind": "building_drain"}) with data.profile as {}
	not receiver_not_permitted.verdict.d1 with input as given({"receiver_kind": "building_drain"}) with data.profile as {}
}

test_not_subject_fixture if count(receiver_not_permitted.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
