# METADATA
# title: Buried drain too small
# description: A drain in the ground is at least the least buried size.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: drain
#   quantity: size
#   message: "{subject} lies in the ground in {measured}; {limit} or larger is required there"
#   remedy: "Use the least buried size or larger wherever the drain lies in the ground."
#   rationale: "A small pipe under a slab cannot be cleared or replaced without breaking concrete."
#   needs: [buried, dn]
#   tables: [drain.buried_min_size]
#   status: stable
package rules.drain.buried_too_small

import data.lib.judge

subject[p.id] := p if {
	some p in input.drains
	not p.buried == false
}

verdict[id] := judge.at_least(p.dn, limit) if {
	some id, p in subject
	p.buried == true
	limit := data.profile.drain.buried_min_size
}
