# METADATA
# title: Lifting plant does not change the water in its line
# description: Between start and stop a basin gives at least what the pumped line holds above its check valve, so that each run renews it.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: basin
#   quantity: volume
#   message: "{subject} gives {measured} a run; the line from its pump holds {limit} above its check valve"
#   remedy: "Widen the basin or the distance from start to stop, or use a thinner line as far as the pump allows."
#   rationale: "Sewage that stays in the line run after run settles and rots."
#   needs: [drawdown]
#   tables: []
#   status: stable
package rules.basin.drawdown_below_pipe_content

import data.lib.judge

lines[d.basin_id] contains d.id if some d in input.discharges

subject[b.id] := b if {
	some b in input.basins
	lines[b.id]
}

# The line that holds the most, once each is known.
verdict[id] := judge.at_least(b.drawdown, max(contents)) if {
	some id, b in subject
	contents := [d.held_volume | some d in input.discharges; d.basin_id == id]
	count(contents) == count(lines[id])
}
