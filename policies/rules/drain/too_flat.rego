# METADATA
# title: Horizontal drain too flat
# description: A horizontal drain falls at least the slope its size needs to carry solids.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: drain
#   quantity: slope
#   message: "{subject} falls {measured}; {limit} or more is required for its size"
#   remedy: "Increase the fall, or where the authority accepts it, the size."
#   rationale: "Too little fall leaves solids behind: the drain stops up under the slab."
#   needs: [slope, size]
#   tables: [drain.min_slope]
#   status: stable
package rules.drain.too_flat

import data.lib.judge

subject[p.id] := p if {
	some p in input.drains
	not p.lie == "vertical"
	not p.lie == "sloped_45"

	# A drain that falls the wrong way is drain/back_pitched's to report.
	not level_or_worse(p)
}

level_or_worse(p) if p.slope <= 0

verdict[id] := judge.at_least(p.slope, limit) if {
	some id, p in subject
	limit := data.profile.drain.min_slope[p.size]
}
