# METADATA
# title: Too many water closets on a pipe of this size
# description: A horizontal branch carries no more water closets than its size allows, a vertical pipe a few more.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: drain
#   quantity: count
#   message: "{subject}, which is {fact:lie}, carries {measured} water closets; {limit} is the most for its size"
#   remedy: "Make the drain larger, or bring some of the closets to another drain."
#   rationale: "Closets that flush together fill a small drain from wall to wall; a pipe that stands empties sooner."
#   needs: [size, lie]
#   tables: [drain.max_water_closets_by_lie, "drain.min_size_with_water_closet?"]
#   status: stable
package rules.drain.too_many_water_closets_by_lie

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
	limit := data.profile.drain.max_water_closets_by_lie[p.size][stands[p.lie]]
}

# A pipe at 45 degrees counts as vertical.
stands := {"horizontal": "horizontal", "vertical": "vertical", "sloped_45": "vertical"}
