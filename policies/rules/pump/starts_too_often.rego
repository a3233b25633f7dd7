# METADATA
# title: Pump starts too often
# description: At the worst inflow a pump starts no more often in an hour than its motor allows, or than usual where its maker states nothing.
# schemas:
#   - input: schema.facts
# custom:
#   level: warning
#   subject: pump
#   quantity: factor
#   message: "{subject} starts {measured} times an hour at the worst inflow; at most {limit}"
#   remedy: "Raise the start level or use a wider basin."
#   rationale: "Each start heats the motor; too many in an hour burn it out."
#   needs: [starts_per_hour]
#   tables: [pump.max_starts_per_hour]
#   status: stable
package rules.pump.starts_too_often

import data.lib.judge

subject[p.id] := p if some p in input.pumps

verdict[id] := judge.at_most_range(p.starts_per_hour_low, p.starts_per_hour, p.starts_per_hour_high, limit(p)) if some id, p in subject

limit(p) := p.max_starts_per_hour if {
	is_number(p.max_starts_per_hour)
} else := data.profile.pump.max_starts_per_hour
