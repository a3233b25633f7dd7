# METADATA
# title: Alarm sounds only after the inlet floods
# description: The alarm level is at or below the inlet invert.
# schemas:
#   - input: schema.facts
# custom:
#   level: warning
#   subject: basin
#   quantity: length
#   message: "{subject} sounds its alarm at {measured} above the floor; the inlet invert is at {limit}"
#   remedy: "Lower the alarm to the inlet invert or below."
#   rationale: "An alarm above the inlet speaks when the drain is already full and the next flush comes back."
#   needs: [alarm_level, inlet_height]
#   tables: []
#   status: stable
package rules.basin.alarm_above_inlet

import data.lib.judge

subject[b.id] := b if some b in input.basins

verdict[id] := judge.at_most(b.alarm_level, b.inlet_height) if some id, b in subject
