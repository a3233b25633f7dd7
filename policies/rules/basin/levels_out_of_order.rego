# METADATA
# title: Switching levels out of order
# description: The stop level is below the first start, and the alarm is above the highest start.
# schemas:
#   - input: schema.facts
# custom:
#   level: warning
#   subject: basin
#   message: "{subject} switches in the order {measured}, lowest first; it must be {limit}"
#   remedy: "Set stop, start, highest start and alarm in rising order."
#   rationale: "A stop at or above the start makes the pump chatter; an alarm at or below a start sounds at every run until somebody unplugs it."
#   needs: [stop_level, start_level, highest_start, alarm_level]
#   tables: []
#   status: stable
package rules.basin.levels_out_of_order

import data.lib.judge

# Levels that are equal sort by their word: stop = start and start = alarm come out wrong,
# as they should; start = top start, one pump, comes out right.
subject[b.id] := b if some b in input.basins

verdict[id] := judge.in_order([step[1] | some step in steps], ["stop", "start", "top start", "alarm"]) if {
	some id, b in subject
	steps := sort([
		[b.stop_level, "stop"],
		[b.start_level, "start"],
		[b.highest_start, "top start"],
		[b.alarm_level, "alarm"],
	])
}
