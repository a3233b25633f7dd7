# METADATA
# title: Vent too long for its size
# description: The developed length of a vent is within the limit for its size.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: vent
#   quantity: length
#   message: "{subject} is {measured} long; {limit} is the most for its size"
#   remedy: "Use a larger vent, or find a shorter way to the open air."
#   rationale: "Friction in a long vent starves the drain of air."
#   needs: [length, size]
#   tables: [vent.max_length]
#   status: stable
package rules.vent.too_long

import data.lib.judge

subject[v.id] := v if {
	some v in input.vents
	v.serves_drains == true
}

verdict[id] := judge.at_most(v.length, limit) if {
	some id, v in subject
	limit := data.profile.vent.max_length[v.size]
}
