# METADATA
# title: Pump slower than the peak inflow
# description: A pump delivers at least the peak inflow to its basin.
# schemas:
#   - input: schema.facts
# custom:
#   level: note
#   subject: pump
#   quantity: flow
#   message: "{subject} delivers {measured}; the peak inflow is {limit}"
#   remedy: "Use a stronger pump or a larger basin."
#   rationale: "While more comes in than goes out the basin fills; only the volume above the start level bridges it."
#   needs: [rate, peak_inflow]
#   tables: []
#   status: stable
package rules.pump.rate_below_inflow

import data.lib.judge

subject[p.id] := p if some p in input.pumps

verdict[id] := judge.at_least_range(p.rate_low, p.rate, p.rate_high, p.peak_inflow) if some id, p in subject
