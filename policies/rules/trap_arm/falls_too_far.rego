# METADATA
# title: Trap arm falls too far
# description: The total fall from a trap weir to the vent fitting is within so many pipe diameters. A fixture that empties its own trap is exempt where the profile says so.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: trap arm of
#   quantity: length
#   message: "{subject} falls {measured} to its vent; {limit} is the most"
#   remedy: "Bring the vent nearer, or lay the trap arm flatter within its least slope."
#   rationale: "Once the vent opening lies below the weir, the arm runs full and siphons the trap."
#   needs: [fall, diameter]
#   tables: [trap_arm.max_fall_diameters, trap_arm.self_siphonic_exempt]
#   status: stable
package rules.trap_arm.falls_too_far

import data.lib.judge

subject[a.id] := a if some a in input.trap_arms

verdict[id] := judge.at_most(a.fall, limit) if {
	some id, a in subject
	bound(a)
	limit := data.profile.trap_arm.max_fall_diameters * a.diameter
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
