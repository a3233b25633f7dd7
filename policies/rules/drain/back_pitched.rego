# METADATA
# title: Drain falls the wrong way
# description: A horizontal drain falls in the direction of flow.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: drain
#   quantity: slope
#   message: "{subject} falls {measured} in the direction of flow; it must fall towards its outlet"
#   remedy: "Lower the downstream end or raise the upstream end until the drain falls its least slope."
#   rationale: "A drain that runs level or uphill holds sewage: it silts up, and the standing water backs up to the lowest fixture."
#   needs: [slope]
#   tables: []
#   status: stable
package rules.drain.back_pitched

import data.lib.judge

# Anything that falls at all passes. How much it must fall is the business of
# drain/too_flat.
subject[p.id] := p if {
	some p in input.drains
	not p.lie == "vertical"
	not p.lie == "sloped_45"
}

verdict[id] := judge.above(p.slope, 0) if some id, p in subject
