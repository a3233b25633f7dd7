# METADATA
# title: Vent terminal near the lot line
# description: A vent ends far enough from the lot line.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: terminal
#   quantity: length
#   message: "{subject} ends {measured} from the lot line; {limit} or more is required"
#   remedy: "Move the terminal back from the lot line."
#   rationale: "What is an empty lot today may have a window tomorrow."
#   needs: [distance_to_lot_line]
#   tables: [terminal.lot_line_distance]
#   status: stable
package rules.vent.terminal_near_lot_line

import data.lib.judge

subject[t.id] := t if some t in input.terminals

verdict[id] := judge.at_least(t.distance_to_lot_line, limit) if {
	some id, t in subject
	limit := data.profile.terminal.lot_line_distance
}
