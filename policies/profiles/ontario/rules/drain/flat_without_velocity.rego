# METADATA
# title: Horizontal drain too flat and too slow
# description: A horizontal drain falls at least the slope its size needs; where that is not possible, a person accepts less if the water still runs fast enough.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: drain
#   quantity: slope
#   message: "{subject} falls {measured}; {limit} or more is required for its size, and its flow is too slow to excuse less"
#   remedy: "Increase the fall."
#   rationale: "Too little fall leaves solids behind: the drain stops up under the slab."
#   needs: [slope, size]
#   tables: [drain.min_slope, drain.flat_min_velocity]
#   status: stable
package rules.drain.flat_without_velocity

import data.lib.judge

subject[p.id] := p if {
	some p in input.drains
	not p.lie == "vertical"
	not p.lie == "sloped_45"

	# A drain that falls the wrong way is drain/back_pitched's to report.
	not level_or_worse(p)
}

level_or_worse(p) if p.slope <= 0

by_slope[id] := judge.at_least(p.slope, data.profile.drain.min_slope[p.size]) if some id, p in subject

by_velocity[id] := judge.at_least(p.velocity, data.profile.drain.flat_min_velocity) if some id, p in subject

verdict[id] := answer if {
	some id, answer in by_slope
	answer.outcome == "pass"
}

verdict[id] := judge.person_decides("it is flatter than its size needs, but runs fast enough at its design flow: see that no more fall is possible") if {
	by_slope[id].outcome == "fail"
	by_velocity[id].outcome == "pass"
}

verdict[id] := by_slope[id] if {
	by_slope[id].outcome == "fail"
	not fast(id)
}

fast(id) if by_velocity[id].outcome == "pass"
