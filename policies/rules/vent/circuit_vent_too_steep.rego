# METADATA
# title: Circuit-vented branch too steep
# description: The horizontal branch of a circuit vent falls no more than allowed.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: circuit-vented drain
#   quantity: slope
#   message: "{subject} falls {measured}; {limit} is the most for a circuit-vented branch"
#   remedy: "Lay the branch flatter and take up the fall in a vertical drop."
#   rationale: "On a steep branch the water rushes past the fittings, closes them and pulls at each trap in turn."
#   needs: [slope]
#   tables: [circuit_vent.max_slope]
#   status: stable
package rules.vent.circuit_vent_too_steep

import data.lib.judge

of_kind contains w.id if {
	some w in input.wet_vents
	w.kind == "circuit"
}

subject[d.id] := d if {
	some d in input.drains
	d.id in of_kind
}

verdict[id] := judge.at_most(d.slope, limit) if {
	some id, d in subject
	limit := data.profile.circuit_vent.max_slope
}
