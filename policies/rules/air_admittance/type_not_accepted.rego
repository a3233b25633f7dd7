# METADATA
# title: Type of air admittance valve not accepted
# description: The valve is of a type that the jurisdiction accepts.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: air admittance valve
#   message: "{subject} is of type {measured}; accepted: {limit}"
#   remedy: "Use an accepted type, or run the vent to the open air."
#   rationale: "A valve serves what it was tested for: one made for a branch starves a stack of air and the traps are sucked dry."
#   needs: [valve_type]
#   tables: [air_admittance.valve_types]
#   status: stable
package rules.air_admittance.type_not_accepted

import data.lib.judge

subject[v.id] := v if some v in input.air_admittance_valves

verdict[id] := judge.one_of(v.valve_type, data.profile.air_admittance.valve_types) if some id, v in subject
