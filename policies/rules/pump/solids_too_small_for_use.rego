# METADATA
# title: Pump passes too small solids for its building
# description: A pump that takes water closets or urinals passes a ball of the size required for the use of the building.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: pump
#   quantity: length
#   message: "{subject} passes solids of {measured}; {limit} or more is required in this use of building"
#   remedy: "Use a pump that passes larger solids, or a grinder pump."
#   rationale: "Public fixtures are given more, and larger, things to swallow than those of a home."
#   needs: [kind, solids, building_use]
#   tables: [pump.solids_by_use]
#   status: stable
package rules.pump.solids_too_small_for_use

import data.lib.judge

subject[p.id] := p if {
	some p in input.pumps
	p.water_closets + p.urinals != 0
}

verdict[id] := judge.at_least(p.solids, data.profile.pump.solids_by_use[p.building_use]) if {
	some id, p in subject
	p.kind in {"solids_handling", "effluent"}
}

verdict[id] := judge.not_required("it cuts the solids") if {
	some id, p in subject
	p.kind in {"grinder", "macerating"}
}
