# METADATA
# title: Vent terminal near a window, door or air intake
# description: A vent ends far enough from openings into the building, or high enough above them.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: terminal
#   quantity: length
#   message: "{subject} ends {measured} {detail}; {limit} or more is required"
#   remedy: "Move the terminal away from the opening, or carry it higher above it."
#   rationale: "Sewer gas blows back into the building through the opening."
#   needs: [distance_to_opening]
#   tables: [terminal.opening_distance, terminal.opening_height]
#   status: stable
package rules.vent.terminal_near_opening

import data.lib.judge

subject[t.id] := t if some t in input.terminals

away(t) := judge.at_least(t.distance_to_opening, data.profile.terminal.opening_distance)

above(t) := judge.at_least(t.height_above_opening, data.profile.terminal.opening_height)

verdict[id] := object.union(away(t), {"detail": "from the nearest opening"}) if {
	some id, t in subject
	away(t).outcome == "pass"
}

verdict[id] := object.union(above(t), {"detail": "above the top of the nearest opening"}) if {
	some id, t in subject
	away(t).outcome == "fail"
}
