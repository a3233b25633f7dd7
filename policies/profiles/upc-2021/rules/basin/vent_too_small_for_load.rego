# METADATA
# title: Vent of a basin too small for its load and length
# description: "The vent of a basin is sized as any vent: by the load of the basin and its own developed length."
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: basin
#   quantity: size
#   message: "{subject} has a vent of {measured}; {limit} or larger is required for its load and length"
#   remedy: "Use a larger vent, or shorten it."
#   rationale: "The vent has to let out the air that the fixtures push in and let in what the pump draws."
#   needs: [vent_dn, load, vent_length]
#   tables: [vent.max_load, vent.max_length]
#   status: stable
package rules.basin.vent_too_small_for_load

import data.lib.judge
import data.lib.table

# Nominal sizes of vents in the trade.
sizes := [32, 40, 50, 65, 80, 100, 125, 150, 200]

subject[b.id] := b if {
	some b in input.basins
	b.has_vent
}

# The least size whose load and length hold what this vent has to.
verdict[id] := judge.at_least(b.vent_dn, min(holds)) if {
	some id, b in subject
	holds := [dn |
		some dn in sizes
		data.profile.vent.max_load[table.size_key(dn)] >= b.load
		data.profile.vent.max_length[table.size_key(dn)] >= b.vent_length
	]
}
