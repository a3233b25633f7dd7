# METADATA
# title: Alarm on the circuit of its pump
# description: The alarm has a circuit of its own.
# schemas:
#   - input: schema.facts
# custom:
#   level: warning
#   subject: pump
#   message: "{subject} shares its circuit with its alarm"
#   remedy: "Give the alarm a circuit of its own, or a battery; ask a licensed electrician."
#   rationale: "The fault that stops the pump trips the breaker, and the alarm with it."
#   needs: [alarm_kind, alarm_own_circuit]
#   tables: []
#   status: stable
package rules.pump.alarm_on_pump_circuit

import data.lib.judge

subject[p.id] := p if some p in input.pumps

verdict[id] := judge.is_true(p.alarm_own_circuit) if {
	some id, p in subject
	p.alarm_kind in {"audible", "visual", "audible_and_visual"}
}

verdict[id] := judge.not_required("it has no alarm") if {
	some id, p in subject
	p.alarm_kind == "none"
}
