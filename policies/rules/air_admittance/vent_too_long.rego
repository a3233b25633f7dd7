# METADATA
# title: Vent to an air admittance valve too long
# description: The vent that the valve ends is no longer than the limit.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: air admittance valve
#   quantity: length
#   message: "{subject} ends a vent of {measured}; at most {limit}"
#   remedy: "Shorten the vent, or end it in the open air."
#   rationale: "The longer the vent, the more of the suction is spent in the pipe and the less air reaches the trap."
#   needs: [length]
#   tables: [air_admittance.max_length]
#   status: stable
package rules.air_admittance.vent_too_long

import data.lib.judge

subject[v.id] := v if some v in input.air_admittance_valves

verdict[id] := judge.at_most(v.length, data.profile.air_admittance.max_length) if some id, v in subject
