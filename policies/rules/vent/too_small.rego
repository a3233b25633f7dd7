# METADATA
# title: Vent too small for its drain
# description: A vent is at least the size that the largest drain it vents needs.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: vent
#   quantity: size
#   message: "{subject} is {measured}; {limit} or larger is required for the {fact:drain_size} drain it vents"
#   remedy: "Use the vent size required for that drain."
#   rationale: "A small vent cannot bring air as fast as the drain draws it, and traps lose their seal."
#   needs: [dn, drain_size]
#   tables: [vent.min_size]
#   status: stable
package rules.vent.too_small

import data.lib.judge

subject[v.id] := v if {
	some v in input.vents
	v.serves_drains == true
}

verdict[id] := judge.at_least(v.dn, limit) if {
	some id, v in subject
	limit := data.profile.vent.min_size[v.drain_size]
}
