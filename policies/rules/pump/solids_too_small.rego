# METADATA
# title: Pump passes too small solids
# description: A pump that does not cut solids passes a ball of the required size, larger where water closets drain to it.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: pump
#   quantity: length
#   message: "{subject} passes solids of {measured}; {limit} or more is required for what drains to it"
#   remedy: "Use a pump that passes larger solids, or a grinder pump."
#   rationale: "What the pump cannot pass stays in its impeller: it hums, trips and the basin fills."
#   needs: [kind, solids]
#   tables: [pump.solids_with_closet, pump.solids_other]
#   status: stable
package rules.pump.solids_too_small

import data.lib.judge

subject[p.id] := p if some p in input.pumps

verdict[id] := judge.at_least(p.solids, data.profile.pump.solids_with_closet) if {
	some id, p in subject
	p.kind in {"solids_handling", "effluent"}
	p.water_closets != 0
}

verdict[id] := judge.at_least(p.solids, data.profile.pump.solids_other) if {
	some id, p in subject
	p.kind in {"solids_handling", "effluent"}
	p.water_closets == 0
}

verdict[id] := judge.not_required("it cuts the solids") if {
	some id, p in subject
	p.kind in {"grinder", "macerating"}
}
