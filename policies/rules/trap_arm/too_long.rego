# METADATA
# title: Trap arm too long
# description: The developed length from a trap weir to the vent fitting is within the limit for its size. A fixture that empties its own trap is exempt where the profile says so.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: trap arm of
#   quantity: length
#   message: "{subject} is {measured} long from weir to vent; {limit} is the most for its size"
#   remedy: "Bring the vent nearer to the trap, or use a larger trap arm."
#   rationale: "On a long arm the fall closes the pipe against the vent, and the fixture siphons its own trap."
#   needs: [length, size]
#   tables: [trap_arm.max_length, trap_arm.self_siphonic_exempt]
#   status: stable
package rules.trap_arm.too_long

import data.lib.judge

subject[a.id] := a if some a in input.trap_arms

verdict[id] := judge.at_most(a.length, limit) if {
	some id, a in subject
	bound(a)
	limit := data.profile.trap_arm.max_length[a.size]
}

verdict[id] := judge.not_required("the fixture empties and refills its own trap") if {
	some id, a in subject
	a.self_siphonic == true
	data.profile.trap_arm.self_siphonic_exempt == true
}

bound(a) if a.self_siphonic == false

bound(a) if {
	a.self_siphonic == true
	data.profile.trap_arm.self_siphonic_exempt == false
}
