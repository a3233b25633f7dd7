# METADATA
# title: Vent runs level below the flood rim
# description: A horizontal vent lies above the flood-level rim of every fixture it serves.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: vent
#   quantity: length
#   message: "{subject} runs level {measured} above the highest rim it serves; {limit} or more is required"
#   remedy: "Raise the horizontal run."
#   rationale: "Waste that backs up runs into a low level vent and dries there."
#   needs: [horizontal_above_rim]
#   tables: [vent.dry_rise_above_rim]
#   status: stable
package rules.vent.horizontal_below_rim

import data.lib.judge

subject[v.id] := v if {
	some v in input.vents
	v.serves_drains == true
	not v.lie == "vertical"
	not v.lie == "sloped_45"
}

verdict[id] := judge.at_least(v.horizontal_above_rim, limit) if {
	some id, v in subject
	limit := data.profile.vent.dry_rise_above_rim
}
