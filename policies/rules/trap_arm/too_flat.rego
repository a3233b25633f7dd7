# METADATA
# title: Trap arm too flat
# description: A trap arm falls at least the slope its size needs. One that stands upright from end to end has no slope.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: trap arm of
#   quantity: slope
#   message: "{subject} falls {measured}; {limit} or more is required for its size"
#   remedy: "Give the trap arm its slope, without letting it fall further than one diameter."
#   rationale: "A flat arm holds waste behind the trap and fouls."
#   needs: [slope, size]
#   tables: [trap_arm.min_slope]
#   status: stable
package rules.trap_arm.too_flat

import data.lib.judge

subject[a.id] := a if some a in input.trap_arms

verdict[id] := judge.at_least(a.slope, limit) if {
	some id, a in subject
	a.level_part == true
	limit := data.profile.trap_arm.min_slope[a.size]
}

verdict[id] := judge.not_required("no part of it lies level") if {
	some id, a in subject
	a.level_part == false
}
