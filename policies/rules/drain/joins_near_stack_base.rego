# METADATA
# title: Branch joins too near the base of a stack
# description: A horizontal branch joins the drain below a stack at least the required distance from the stack's base.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: drain
#   quantity: length
#   message: "{subject} joins {measured} from the base of a stack; {limit} or more is required"
#   remedy: "Join farther downstream, or bring the branch to the stack above its base."
#   rationale: "At the foot of a stack the falling water piles up and shuts the pipe: a branch there is blown back into its fixtures."
#   needs: [lie, distance_from_stack_base, joined_diameter]
#   tables: [stack.base_distance_diameters]
#   status: stable
package rules.drain.joins_near_stack_base

import data.lib.judge

subject[d.id] := d if {
	some d in input.drains
	d.joins_below_stack == true
}

verdict[id] := judge.at_least(d.distance_from_stack_base, limit) if {
	some id, d in subject
	limit := data.profile.stack.base_distance_diameters * d.joined_diameter
}
