# METADATA
# title: Water closet too far from its vent
# description: The arm of a water closet is no longer than the limit, from its flange to the vent fitting.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: trap arm of
#   quantity: length
#   message: "{subject} is {measured} long; {limit} is the most for a water closet"
#   remedy: "Bring the vent nearer."
#   rationale: "A closet siphons its own trap and refills it; a long arm behind it fills and pulls that refill away."
#   needs: [length]
#   tables: [trap_arm.max_length_closet]
#   status: stable
package rules.trap_arm.closet_arm_too_long

import data.lib.judge

subject[a.id] := a if {
	some a in input.trap_arms
	a.fixture_kind == "water_closet"
}

verdict[id] := judge.at_most(a.length, data.profile.trap_arm.max_length_closet) if some id, a in subject
