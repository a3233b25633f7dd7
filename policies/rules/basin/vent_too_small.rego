# METADATA
# title: Basin vent too small for its pump and length
# description: The vent of a basin is no longer than its size allows at the rate of the pump.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: basin
#   quantity: length
#   message: "{subject} has a vent of {measured}; {limit} is the longest for its size at the rate of its pump"
#   remedy: "Use a larger vent or shorten it."
#   rationale: "A running pump draws air down the vent as fast as it lifts water. A long thin vent starves it and the traps are sucked dry."
#   needs: [vent_length, vent_size, pump_rate]
#   tables: [basin.vent_length]
#   status: stable
package rules.basin.vent_too_small

import data.lib.judge
import data.lib.table

# A basin without a vent is reported by basin/not_vented. A size that is not permitted
# at a rate has the limit 0.
subject[b.id] := b if {
	some b in input.basins
	b.has_vent
}

verdict[id] := answer(b, limit) if {
	some id, b in subject
	limit := table.at_or_above(data.profile.basin.vent_length[b.vent_size], b.pump_rate)
}

verdict[id] := judge.person_decides("the pump delivers more than the vent table holds") if {
	some id, b in subject
	steps := data.profile.basin.vent_length[b.vent_size]
	rate := b.pump_rate
	not table.at_or_above(steps, rate)
}

# The rate of the pump is known as a range; its high end may ask for a shorter vent.
answer(b, limit) := judge.at_most(b.vent_length, limit) if judge.at_most(b.vent_length, limit).outcome == "fail"

answer(b, limit) := judge.at_most(b.vent_length, limit) if {
	judge.at_most(b.vent_length, limit).outcome == "pass"
	wide_enough_at_high(b)
}

answer(b, limit) := judge.person_decides("its vent is wide enough for the rate expected of the pump, but not for the high end of its range") if {
	judge.at_most(b.vent_length, limit).outcome == "pass"
	is_number(b.pump_rate_high)
	not wide_enough_at_high(b)
}

wide_enough_at_high(b) if {
	limit := table.at_or_above(data.profile.basin.vent_length[b.vent_size], b.pump_rate_high)
	judge.at_most(b.vent_length, limit).outcome == "pass"
}
