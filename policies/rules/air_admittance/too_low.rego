# METADATA
# title: Air admittance valve too low above its drain
# description: A valve for one fixture or a branch stands the least height above the horizontal drain that it serves.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: air admittance valve
#   quantity: length
#   message: "{subject} stands {measured} above its drain; {limit} or more is required"
#   remedy: "Raise the valve."
#   rationale: "A low valve is reached by the waste when the drain backs up: it fouls and then stays open or shut."
#   needs: [valve_type, height_above_drain]
#   tables: [air_admittance.min_above_drain]
#   status: stable
package rules.air_admittance.too_low

import data.lib.judge

subject[v.id] := v if {
	some v in input.air_admittance_valves
	not v.valve_type == "stack"
}

verdict[id] := judge.at_least(v.height_above_drain, data.profile.air_admittance.min_above_drain) if {
	some id, v in subject
	v.valve_type in {"individual", "branch"}
}
