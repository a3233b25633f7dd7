# METADATA
# title: Vent of a sump too small for its drains
# description: The vent of a sump is at most one size smaller than the largest drain that empties into it.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: basin
#   quantity: size
#   message: "{subject} has a vent of {measured}; for its drains {limit} or larger is required"
#   remedy: "Use a larger vent."
#   rationale: "What comes in fast has to push the air out as fast."
#   needs: [vent_dn, largest_drain_dn]
#   tables: [basin.vent_min_size]
#   status: stable
package rules.basin.vent_too_small_for_drain

import data.lib.judge

# Nominal sizes of drains in the trade, in order.
sizes := [32, 40, 50, 65, 80, 100, 125, 150, 200]

subject[b.id] := b if {
	some b in input.basins
	b.has_vent
}

verdict[id] := judge.at_least(b.vent_dn, max([smaller, data.profile.basin.vent_min_size])) if {
	some id, b in subject
	smaller := max([s | some s in sizes; s < b.largest_drain_dn])
}
