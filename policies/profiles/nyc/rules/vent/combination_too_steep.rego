# METADATA
# title: Combination drain and vent too steep
# description: A horizontal combination drain and vent falls no more than allowed.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: combination drain and vent
#   quantity: slope
#   message: "{subject} falls {measured}; {limit} is the most for a combination drain and vent"
#   remedy: "Lay it flatter and take up the fall in a vertical drop."
#   rationale: "On a steep drain the water rushes past the fittings and closes off the air above it."
#   needs: [slope]
#   tables: [combination_vent.max_slope]
#   status: stable
package rules.vent.combination_too_steep

import data.lib.judge

of_kind contains w.id if {
	some w in input.wet_vents
	w.kind == "combination"
}

subject[d.id] := d if {
	some d in input.drains
	d.id in of_kind
	not d.lie == "vertical"
}

verdict[id] := judge.at_most(d.slope, data.profile.combination_vent.max_slope) if some id, d in subject
