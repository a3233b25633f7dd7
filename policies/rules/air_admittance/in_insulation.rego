# METADATA
# title: Air admittance valve in insulation
# description: Where there is insulation the valve stands the least height above it.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: air admittance valve
#   quantity: length
#   message: "{subject} stands {measured} above the insulation; {limit} or more is required"
#   remedy: "Raise the valve clear of the insulation, or move it to a space without any."
#   rationale: "Loose insulation drifts over the valve and stops its inlet: no air, and the traps are sucked dry."
#   needs: [insulation, height_above_insulation]
#   tables: [air_admittance.min_above_insulation]
#   status: stable
package rules.air_admittance.in_insulation

import data.lib.judge

subject[v.id] := v if some v in input.air_admittance_valves

verdict[id] := judge.at_least(v.height_above_insulation, data.profile.air_admittance.min_above_insulation) if {
	some id, v in subject
	v.insulation == "present"
}

verdict[id] := judge.not_required("no insulation around it") if {
	some id, v in subject
	v.insulation == "none"
}
