# METADATA
# title: Vent too near to the trap weir
# description: A trap arm is at least so many pipe diameters long that its vent does not crown the trap. A fixture with the trap inside it is not meant here.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: trap arm of
#   quantity: length
#   message: "{subject} is {measured} long from weir to vent; {limit} or more is required"
#   remedy: "Move the vent fitting further from the trap."
#   rationale: "A vent at the crown of the trap is splashed with waste and stops up."
#   needs: [length, diameter]
#   tables: [trap_arm.min_length_diameters]
#   status: stable
package rules.trap_arm.too_short

import data.lib.judge

subject[a.id] := a if {
	some a in input.trap_arms
	a.self_siphonic == false
}

verdict[id] := judge.at_least(a.length, limit) if {
	some id, a in subject
	limit := data.profile.trap_arm.min_length_diameters * a.diameter
}
