# METADATA
# title: Long vent not one size larger
# description: A vent longer than the limit is one size larger than its drain would need, for its whole length.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: vent
#   quantity: size
#   message: "{subject} is {fact:length} long and {measured}; at that length {limit} or larger is required"
#   remedy: "Make the whole vent one size larger, or find a shorter way to the open air."
#   rationale: "Friction in a long vent starves the drain of air."
#   needs: [length, dn, drain_size]
#   tables: [vent.upsize_length, vent.min_size, vent.next_size]
#   status: stable
package rules.vent.too_small_for_length

import data.lib.judge
import data.lib.table

subject[v.id] := v if {
	some v in input.vents
	v.serves_drains == true
}

length_within_limit(v) := judge.at_most(v.length, data.profile.vent.upsize_length).outcome

verdict[id] := judge.at_least(v.dn, limit) if {
	some id, v in subject
	length_within_limit(v) == "fail"
	for_drain := data.profile.vent.min_size[v.drain_size]
	limit := data.profile.vent.next_size[table.size_key(for_drain)]
}

verdict[id] := judge.not_required("the vent is short enough for the size its drain needs") if {
	some id, v in subject
	length_within_limit(v) == "pass"
}
