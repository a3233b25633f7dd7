# METADATA
# title: Drain too small for a water closet
# description: A drain that carries a water closet is at least the size that passes its solids.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: drain
#   quantity: size
#   message: "{subject} is {measured} and carries water closets ({fact:water_closets}); {limit} or larger is required"
#   remedy: "Run the drain in the size required from the closet to the sewer."
#   rationale: "Paper and solids from a closet jam in a small drain however light its load is."
#   needs: [dn]
#   tables: [drain.min_size_with_water_closet]
#   status: stable
package rules.drain.too_small_for_water_closet

import data.lib.judge

subject[p.id] := p if {
	some p in input.drains
	p.water_closets > 0
}

verdict[id] := judge.at_least(p.dn, limit) if {
	some id, p in subject
	limit := data.profile.drain.min_size_with_water_closet
}
