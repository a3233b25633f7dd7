package rules.discharge.enters_wrong_side_test

import data.rules.discharge.enters_wrong_side

# Top of the pipe: New York City plumbing code 712.3.5, as read in a stored copy.
profile := {"discharge": {"entries": ["top"]}}

given(facts) := {"discharges": [object.union({"id": "d1"}, facts)]}

test_pass_top if enters_wrong_side.verdict.d1.outcome == "pass" with input as given({"receiver_lie": "horizontal", "entry": "top"}) with data.profile as profile

test_fail_bottom if enters_wrong_side.verdict.d1.outcome == "fail" with input as given({"receiver_lie": "horizontal", "entry": "bottom"}) with data.profile as profile

test_open_entry_missing if {
	enters_wrong_side.subject.d1 with input as given({"receiver_lie": "horizontal"}) with data.profile as profile
	not enters_wrong_side.verdict.d1 with input as given({"receiver_lie": "horizontal"}) with data.profile as profile
}

test_open_lie_missing if {
	enters_wrong_side.subject.d1 with input as given({"entry": "top"}) with data.profile as profile
	not enters_wrong_side.verdict.d1 with input as given({"entry": "top"}) with data.profile as profile
}

test_open_table_missing if {
	enters_wrong_side.subject.d1 with input as given({"receiver_lie": "horizontal", "entry": "top"}) with data.profile as {}
	not enters_wrong_side.verdict.d1 with input as given({"receiver_lie": "horizontal", "entry": "top"}) with data.profile as {}
}

test_not_subject_stack if not enters_wrong_side.subject.d1 with input as given({"receiver_lie": "vertical", "entry": "side"}) with data.profile as profile
