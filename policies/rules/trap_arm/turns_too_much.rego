# METADATA
# title: Trap arm turns too much without a cleanout
# description: The changes of direction of a trap arm add up to no more than its size allows, unless a cleanout stands in it.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: trap arm of
#   quantity: angle
#   message: "{subject} turns {measured} in all without a cleanout; {limit} is the most for its size"
#   remedy: "Straighten the arm, or put a cleanout in it."
#   rationale: "Every turn slows the waste and stops the rod."
#   needs: [turns, size]
#   tables: [trap_arm.max_turn]
#   status: stable
package rules.trap_arm.turns_too_much

import data.lib.judge

subject[a.id] := a if some a in input.trap_arms

verdict[id] := judge.at_most(a.turns, limit) if {
	some id, a in subject
	a.has_cleanout == false
	limit := data.profile.trap_arm.max_turn[a.size]
}

verdict[id] := judge.not_required("a cleanout stands in the trap arm") if {
	some id, a in subject
	a.has_cleanout == true
}
