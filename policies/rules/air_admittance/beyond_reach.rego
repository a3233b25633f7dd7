# METADATA
# title: Air admittance valve serves too high a stack
# description: A valve of the stack type serves no more branch intervals than the limit.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: air admittance valve
#   quantity: count
#   message: "{subject} serves a stack of {measured} branch intervals; at most {limit}"
#   remedy: "Run the stack vent to the open air, or divide the stack."
#   rationale: "In a tall stack the pressure swings both ways; a valve can only let air in."
#   needs: [valve_type, branch_intervals]
#   tables: [air_admittance.max_intervals]
#   status: stable
package rules.air_admittance.beyond_reach

import data.lib.judge

subject[v.id] := v if {
	some v in input.air_admittance_valves
	not v.valve_type == "individual"
	not v.valve_type == "branch"
}

verdict[id] := judge.at_most(v.branch_intervals, data.profile.air_admittance.max_intervals) if {
	some id, v in subject
	v.valve_type == "stack"
}
