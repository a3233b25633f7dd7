# METADATA
# title: Pump rate too low for its discharge pipe
# description: A pump that does not cut solids delivers at least the rate required for the size of its discharge pipe.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: pump
#   quantity: flow
#   message: "{subject} delivers {measured}; {limit} or more is required for its discharge pipe"
#   remedy: "Use a stronger pump, or a smaller pipe where that is allowed."
#   rationale: "Below that rate the water is too slow to carry solids up the pipe, and they settle on the check valve."
#   needs: [kind, rate, discharge_size]
#   tables: [pump.min_rate]
#   status: stable
package rules.pump.rate_too_low

import data.lib.judge

subject[p.id] := p if some p in input.pumps

verdict[id] := judge.at_least_range(p.rate_low, p.rate, p.rate_high, data.profile.pump.min_rate[p.discharge_size]) if {
	some id, p in subject
	p.kind in {"solids_handling", "effluent"}
}

verdict[id] := judge.not_required("it cuts the solids") if {
	some id, p in subject
	p.kind in {"grinder", "macerating"}
}
