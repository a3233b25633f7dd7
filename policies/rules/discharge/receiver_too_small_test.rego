package rules.discharge.receiver_too_small_test

import data.rules.discharge.receiver_too_small

given(facts) := {"discharges": [object.union({"id": "d1"}, facts)]}

test_pass_more if receiver_too_small.verdict.d1.outcome == "pass" with input as given({"receiver_dn": 160, "dn": 80})

test_fail_far_less if receiver_too_small.verdict.d1.outcome == "fail" with input as given({"receiver_dn": 40, "dn": 80})

test_boundary_equal if {
	receiver_too_small.verdict.d1.outcome == "pass" with input as given({"receiver_dn": 80, "dn": 80})
	receiver_too_small.verdict.d1.outcome == "fail" with input as given({"receiver_dn": 65, "dn": 80})
}

test_open_receiver_dn_missing if {
	receiver_too_small.subject.d1 with input as given({"dn": 80})
	not receiver_too_small.verdict.d1 with input as given({"dn": 80})
}

test_open_dn_missing if {
	receiver_too_small.subject.d1 with input as given({"receiver_dn": 80})
	not receiver_too_small.verdict.d1 with input as given({"receiver_dn": 80})
}

test_not_subject_fixture if count(receiver_too_small.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
