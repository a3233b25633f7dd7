# METADATA
# title: Basin vent below the least size
# description: The vent of a basin has at least the least size.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: basin
#   quantity: size
#   message: "{subject} has a vent of {measured}; {limit} or more is required"
#   remedy: "Use a larger vent."
#   rationale: "A thin vent is soon closed by frost, cobwebs or condensate."
#   needs: [vent_dn]
#   tables: [basin.vent_min_size]
#   status: stable
package rules.basin.vent_below_least_size

import data.lib.judge

subject[b.id] := b if {
	some b in input.basins
	b.has_vent
}

verdict[id] := judge.at_least(b.vent_dn, data.profile.basin.vent_min_size) if some id, b in subject
