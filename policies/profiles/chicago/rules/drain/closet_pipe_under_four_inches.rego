# METADATA
# title: Closet drain under the size for its building
# description: A branch or stack that carries water closets has the full size, or the smaller one in a low building with few closets and little load on it. A building drain or sewer has the size asked of it.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: drain
#   quantity: size
#   message: "{subject} is {measured} and carries water closets ({fact:water_closets}); {limit} is required, less only in a low building with few closets on the pipe"
#   remedy: "Use the full size, or take closets off the pipe."
#   rationale: "A stack of closets drops more at once than a small pipe can take without plugging and sucking traps dry."
#   needs: [dn]
#   tables: [drain.min_size_with_water_closet, building_drain.min_size_with_water_closet, small_closet_drain.size, small_closet_drain.max_storeys, small_closet_drain.max_load, stack.max_water_closets, branch.max_water_closets]
#   status: stable
package rules.drain.closet_pipe_under_four_inches

import data.lib.judge

subject[d.id] := d if {
	some d in input.drains
	d.water_closets != 0
}

outside[id] := d if {
	some id, d in subject
	d.role in {"building_drain", "building_sewer"}
}

inside[id] := d if {
	some id, d in subject
	not outside[id]
}

verdict[id] := judge.at_least(d.dn, data.profile.building_drain.min_size_with_water_closet) if some id, d in outside

verdict[id] := judge.at_least(d.dn, data.profile.drain.min_size_with_water_closet) if {
	some id, d in inside
	d.dn != data.profile.small_closet_drain.size
}

verdict[id] := judge.at_least(d.dn, data.profile.drain.min_size_with_water_closet) if {
	some id, d in inside
	d.dn == data.profile.small_closet_drain.size
	"fail" in asked[id]
}

verdict[id] := judge.not_required("a low building, few water closets and little load on it") if {
	some id, d in inside
	d.dn == data.profile.small_closet_drain.size
	asked[id] == {"storeys": "pass", "load": "pass", "closets": "pass"}
}

asked[id].storeys := judge.at_most(input.building.storeys, data.profile.small_closet_drain.max_storeys).outcome if some id, _ in inside

asked[id].load := judge.at_most(d.load, data.profile.small_closet_drain.max_load).outcome if some id, d in inside

asked[id].closets := judge.at_most(d.water_closets, most_closets[id]).outcome if some id, d in inside

most_closets[id] := data.profile.stack.max_water_closets[d.size] if {
	some id, d in inside
	d.role == "stack"
}

most_closets[id] := data.profile.branch.max_water_closets[d.size] if {
	some id, d in inside
	d.role != "stack"
}
