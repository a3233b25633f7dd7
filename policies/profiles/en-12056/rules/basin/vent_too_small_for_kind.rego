# METADATA
# title: Vent of a lifting plant too small for its pumps
# description: The vent of a lifting plant has the size stated for the kind of its pumps.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: basin
#   quantity: size
#   message: "{subject} has a vent of {measured}; {limit} or larger is required for its pumps"
#   remedy: "Use a larger vent."
#   rationale: "A plant without macerator moves more air, and its vent has to pass it unhindered."
#   needs: [vent_dn]
#   tables: [basin.vent_min_size_by_kind]
#   status: stable
package rules.basin.vent_too_small_for_kind

import data.lib.judge

subject[b.id] := b if {
	some b in input.basins
	b.has_vent
}

# The largest that one of its pumps asks for, once the kind of each is known.
verdict[id] := judge.at_least(b.vent_dn, max(limits)) if {
	some id, b in subject
	kinds := [object.get(p, "kind", "not stated") | some p in input.pumps; p.basin_id == id]
	limits := [limit | some kind in kinds; limit := data.profile.basin.vent_min_size_by_kind[kind]]
	count(limits) == count(kinds)
}
