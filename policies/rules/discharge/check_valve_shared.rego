# METADATA
# title: Pumps that share one check valve
# description: Each pump has a check valve of its own before its line meets the line of another pump.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: pumped line
#   message: "{subject} has no check valve before it meets the line of another pump"
#   remedy: "Fit a check valve in the line of each pump, before the lines meet."
#   rationale: "Where the only check valve stands in the shared pipe, the pump that runs sends its flow back through the one that rests, and little of it leaves the basin."
#   needs: [has_check_valve, own_check_valve]
#   tables: []
#   status: stable
package rules.discharge.check_valve_shared

import data.lib.judge

subject[d.id] := d if some d in input.discharges

verdict[id] := judge.is_true(d.own_check_valve) if {
	some id, d in subject
	d.has_check_valve == true
}

verdict[id] := judge.not_required("it has no check valve at all, which another rule reports") if {
	some id, d in subject
	d.has_check_valve == false
}
