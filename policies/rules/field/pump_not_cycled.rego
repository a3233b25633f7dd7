# METADATA
# title: Pump run through its cycle
# description: The pump is run through start, stop and alarm with real water.
# schemas:
#   - input: schema.facts
# custom:
#   level: note
#   subject: project
#   message: "{subject}: {detail}"
#   remedy: "Correct floats, valves or wiring and repeat the cycle."
#   rationale: "A float that catches on a wall or a check valve put in backwards is found now or on the first wet night."
#   needs: []
#   tables: []
#   status: stable
package rules.field.pump_not_cycled

import data.lib.judge

subject[p.id] := p if {
	p := input.project
	p.has_basin == true
}

verdict[id] := judge.person_decides("fill the basin: see the pump start, empty it and stop, the check valve hold the water back, and the alarm sound when the pump is off") if some id, _ in subject
