# METADATA
# title: Sump holds too little of a peak
# description: Between the highest pump start and the inlet a sump holds what flows in beyond the rate of one pump during the peak period.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: basin
#   quantity: volume
#   message: "{subject} holds {measured} between its highest pump start and the inlet; at its peak inflow {limit} or more is required"
#   remedy: "Use a larger or deeper sump, a pump of a higher rate, or lower the pump starts."
#   rationale: "Everybody showers at once while one pump is out: what the other cannot lift has to wait below the inlet."
#   needs: [storage_above_start, peak_inflow, pump_rate]
#   tables: [basin.peak_period]
#   status: stable
package rules.basin.peak_storage_too_small

import data.lib.judge

subject[b.id] := b if some b in input.basins

# Flow in mL/s, period in ms, volume in mL. Capacity counts one pump alone.
verdict[id] := judge.at_least(b.storage_above_start, ceil((excess * data.profile.basin.peak_period) / 1000)) if {
	some id, b in subject
	excess := max({0, b.peak_inflow - b.pump_rate})
}
