# METADATA
# title: Pump rate too low for water closets
# description: A pump that takes water closets or urinals delivers at least the required rate.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: pump
#   quantity: flow
#   message: "{subject} delivers {measured}; {limit} or more is required"
#   remedy: "Use a stronger pump, or reduce lift and friction."
#   rationale: "A slow pump does not carry what a flush sends."
#   needs: [rate]
#   tables: [pump.min_rate_with_closet]
#   status: stable
package rules.pump.rate_too_low_with_closet

import data.lib.judge

subject[p.id] := p if {
	some p in input.pumps
	p.water_closets + p.urinals != 0
}

verdict[id] := judge.at_least_range(p.rate_low, p.rate, p.rate_high, data.profile.pump.min_rate_with_closet) if some id, p in subject
