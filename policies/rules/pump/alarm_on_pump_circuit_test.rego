package rules.pump.alarm_on_pump_circuit_test

import data.rules.pump.alarm_on_pump_circuit

given(facts) := {"pumps": [object.union({"id": "p1"}, facts)]}

test_pass_own_circuit if alarm_on_pump_circuit.verdict.p1.outcome == "pass" with input as given({"alarm_kind": "audible", "alarm_own_circuit": true})

test_pass_no_alarm if alarm_on_pump_circuit.verdict.p1.outcome == "pass" with input as given({"alarm_kind": "none"})

test_fail_shared if alarm_on_pump_circuit.verdict.p1.outcome == "fail" with input as given({"alarm_kind": "visual", "alarm_own_circuit": false})

test_open_circuit_missing if {
	alarm_on_pump_circuit.subject.p1 with input as given({"alarm_kind": "audible"})
	not alarm_on_pump_circuit.verdict.p1 with input as given({"alarm_kind": "audible"})
}

test_open_alarm_missing if {
	alarm_on_pump_circuit.subject.p1 with input as given({"alarm_own_circuit": true})
	not alarm_on_pump_circuit.verdict.p1 with input as given({"alarm_own_circuit": true})
}

test_not_subject_fixture if count(alarm_on_pump_circuit.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}

test_pass_audible_and_visual if alarm_on_pump_circuit.verdict.p1.outcome == "pass" with input as given({"alarm_kind": "audible_and_visual", "alarm_own_circuit": true})
