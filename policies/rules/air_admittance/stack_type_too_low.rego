# METADATA
# title: Stack type air admittance valve too low
# description: A valve of the stack type stands the least height above the highest flood-level rim that it serves.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: air admittance valve
#   quantity: length
#   message: "{subject} stands {measured} above the highest flood-level rim it serves; {limit} or more is required"
#   remedy: "Raise the valve."
#   rationale: "Below the rims a stopped stack fills the valve with sewage before anybody sees water in a fixture."
#   needs: [valve_type, height_above_rim]
#   tables: [air_admittance.stack_min_above_rim]
#   status: stable
package rules.air_admittance.stack_type_too_low

import data.lib.judge

subject[v.id] := v if {
	some v in input.air_admittance_valves
	not v.valve_type == "individual"
	not v.valve_type == "branch"
}

verdict[id] := judge.at_least(v.height_above_rim, data.profile.air_admittance.stack_min_above_rim) if {
	some id, v in subject
	v.valve_type == "stack"
}
