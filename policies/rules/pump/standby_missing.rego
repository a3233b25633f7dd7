# METADATA
# title: No second pump where the duty cannot stop
# description: A basin of a public, commercial, institutional or industrial building has the required number of pumps.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: pump
#   quantity: count
#   message: "{subject} stands with {measured} pumps in its basin; {limit} or more are required in this use of building"
#   remedy: "Fit a second pump that can do the duty alone."
#   rationale: "When the only pump stops, a public toilet is used until it overflows."
#   needs: [building_use]
#   tables: [pump.min_count_public]
#   status: stable
package rules.pump.standby_missing

import data.lib.judge

subject[p.id] := p if some p in input.pumps

verdict[id] := judge.at_least(p.pumps_in_basin, data.profile.pump.min_count_public) if {
	some id, p in subject
	p.building_use in {"public", "commercial", "institutional", "industrial"}
}

verdict[id] := judge.not_required("a home can stop using it") if {
	some id, p in subject
	p.building_use in {"one_family", "two_family"}
}

verdict[id] := judge.person_decides("see whether several dwellings share this basin and can stop using it") if {
	some id, p in subject
	p.building_use == "multifamily"
}
