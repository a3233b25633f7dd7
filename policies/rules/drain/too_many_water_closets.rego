# METADATA
# title: Too many water closets on a drain of this size
# description: A drain carries no more water closets than its size allows, whatever its load.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: drain
#   quantity: count
#   message: "{subject} carries {measured} water closets; {limit} is the most for its size"
#   remedy: "Make the drain larger, or bring some of the closets to another drain."
#   rationale: "Closets that flush together fill a small drain from wall to wall and siphon the traps on it."
#   needs: [size]
#   tables: [drain.max_water_closets, "drain.min_size_with_water_closet?"]
#   status: stable
package rules.drain.too_many_water_closets

import data.lib.judge

subject[p.id] := p if {
	some p in input.drains
	p.water_closets > 0

	# A size that may carry none at all is drain/too_small_for_water_closet's.
	not too_small_for_any(p)
}

too_small_for_any(p) if p.dn < data.profile.drain.min_size_with_water_closet

verdict[id] := judge.at_most(p.water_closets, limit) if {
	some id, p in subject
	limit := data.profile.drain.max_water_closets[p.size]
}
