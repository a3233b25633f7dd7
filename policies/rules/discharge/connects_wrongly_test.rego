package rules.discharge.connects_wrongly_test

import data.rules.discharge.connects_wrongly

# Wye into a horizontal drain: New York City plumbing code 712.3.5, as read in a stored copy.
profile := {"discharge": {"fittings": ["wye", "combination_wye"], "fittings_vertical": ["wye", "sanitary_tee"]}}

given(facts) := {"discharges": [object.union({"id": "d1"}, facts)]}

test_pass_wye if connects_wrongly.verdict.d1.outcome == "pass" with input as given({"receiver_lie": "horizontal", "fitting": "wye"}) with data.profile as profile

test_pass_tee_on_a_stack if connects_wrongly.verdict.d1.outcome == "pass" with input as given({"receiver_lie": "vertical", "fitting": "sanitary_tee"}) with data.profile as profile

test_fail_tee if connects_wrongly.verdict.d1.outcome == "fail" with input as given({"receiver_lie": "horizontal", "fitting": "sanitary_tee"}) with data.profile as profile

test_fail_plain_tee_on_a_stack if connects_wrongly.verdict.d1.outcome == "fail" with input as given({"receiver_lie": "vertical", "fitting": "tee"}) with data.profile as profile

test_open_lie_missing if {
	connects_wrongly.subject.d1 with input as given({"fitting": "wye"}) with data.profile as profile
	not connects_wrongly.verdict.d1 with input as given({"fitting": "wye"}) with data.profile as profile
}

test_open_fitting_missing if {
	connects_wrongly.subject.d1 with input as given({"receiver_lie": "horizontal"}) with data.profile as profile
	not connects_wrongly.verdict.d1 with input as given({"receiver_lie": "horizontal"}) with data.profile as profile
}

test_open_table_missing if {
	connects_wrongly.subject.d1 with input as given({"receiver_lie": "vertical", "fitting": "wye"}) with data.profile as {"discharge": {"fittings": ["wye"]}}
	not connects_wrongly.verdict.d1 with input as given({"receiver_lie": "vertical", "fitting": "wye"}) with data.profile as {"discharge": {"fittings": ["wye"]}}
}

test_not_subject_fixture if count(connects_wrongly.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
