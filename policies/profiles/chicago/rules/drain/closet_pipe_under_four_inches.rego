# METADATA
# title: Closet branch or stack under the size for its building
# description: A branch or stack that carries water closets has the full size, or the smaller one in a low building with few closets and little load on it.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: drain
#   quantity: size
#   message: "{subject} is {measured} and carries {fact:water_closets} water closets; {limit} is required, less only in a low building with few closets on the pipe"
#   remedy: "Use the full size, or take closets off the pipe."
#   rationale: "A stack of closets drops more at once than a small pipe can take without plugging and sucking traps dry."
#   needs: [dn]
#   tables: [drain.min_size_with_water_closet, small_closet_drain.size, small_closet_drain.max_storeys, small_closet_drain.max_load, stack.max_water_closets, branch.max_water_closets]
#   status: stable
package rules.drain.closet_pipe_under_four_inches

import data.lib.judge

subject[d.id] := d if {
	some d in input.drains
	d.water_closets != 0
	d.role in {"branch", "stack", "fixture_drain"}
}

verdict[id] := judge.at_least(d.dn, data.profile.drain.min_size_with_water_closet) if {
	some id, d in subject
	d.dn != data.profile.small_closet_drain.size
}

verdict[id] := judge.at_least(d.dn, data.profile.drain.min_size_with_water_closet) if {
	some id, d in subject
	d.dn == data.profile.small_closet_drain.size
	"fail" in asked[id]
}

verdict[id] := judge.not_required("a low building, few water closets and little load on it") if {
	some id, d in subject
	d.dn == data.profile.small_closet_drain.size
	asked[id] == {"storeys": "pass", "load": "pass", "closets": "pass"}
}

asked[id].storeys := judge.at_most(input.building.storeys, data.profile.small_closet_drain.max_storeys).outcome if some id, _ in subject

asked[id].load := judge.at_most(d.load, data.profile.small_closet_drain.max_load).outcome if some id, d in subject

asked[id].closets := judge.at_most(d.water_closets, most_closets[id]).outcome if some id, d in subject

most_closets[id] := data.profile.stack.max_water_closets[d.size] if {
	some id, d in subject
	d.role == "stack"
}

most_closets[id] := data.profile.branch.max_water_closets[d.size] if {
	some id, d in subject
	d.role != "stack"
}
