# METADATA
# title: Pump runs too short
# description: From start to stop a pump runs at least the least time.
# schemas:
#   - input: schema.facts
# custom:
#   level: warning
#   subject: pump
#   quantity: duration
#   message: "{subject} runs {measured} at a time; {limit} or more is wanted"
#   remedy: "Set start and stop further apart or use a wider basin."
#   rationale: "A short run does not cool the motor or empty the pipe."
#   needs: [run_time]
#   tables: [pump.min_run_time]
#   status: stable
package rules.pump.runs_too_short

import data.lib.judge

subject[p.id] := p if some p in input.pumps

verdict[id] := judge.at_least_range(p.run_time_low, p.run_time, p.run_time_high, data.profile.pump.min_run_time) if some id, p in subject
