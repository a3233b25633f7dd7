# METADATA
# title: Horizontal drain too steep
# description: A horizontal drain falls no more than the greatest slope for its size.
# schemas:
#   - input: schema.facts
# custom:
#   level: warning
#   subject: drain
#   quantity: slope
#   message: "{subject} falls {measured}; {limit} or less is allowed for its size"
#   remedy: "Lay the drain flatter and take up the rest of the fall in a vertical or 45 degree drop."
#   rationale: "On a steep drain the water can outrun the solids and leave them stranded."
#   needs: [slope, size]
#   tables: [drain.max_slope]
#   status: stable
package rules.drain.too_steep

import data.lib.judge

subject[p.id] := p if {
	some p in input.drains
	not p.lie == "vertical"
	not p.lie == "sloped_45"
}

verdict[id] := judge.at_most(p.slope, limit) if {
	some id, p in subject
	limit := data.profile.drain.max_slope[p.size]
}
