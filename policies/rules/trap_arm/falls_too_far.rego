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

# A fixture may stand above a combination drain and vent and drop into it: the
# air is in the large pipe below, and the fall of the drop is no siphon.
dropped(a) if {
	a.method == "combination"
	a.vertical_drop == true
}

subject[a.id] := a if some a in input.trap_arms

verdict[id] := judge.at_most(a.fall, limit) if {
	some id, a in subject
	not dropped(a)
	bound(a)
	limit := data.profile.trap_arm.max_fall_diameters * a.diameter
}

verdict[id] := judge.not_required("the fixture empties and refills its own trap") if {
	some id, a in subject
	not dropped(a)
	a.self_siphonic == true
	data.profile.trap_arm.self_siphonic_exempt == true
}

verdict[id] := judge.not_required("it drops into a combination drain and vent") if {
	some id, a in subject
	dropped(a)
}

bound(a) if a.self_siphonic == false

bound(a) if {
	a.self_siphonic == true
	data.profile.trap_arm.self_siphonic_exempt == false
}
