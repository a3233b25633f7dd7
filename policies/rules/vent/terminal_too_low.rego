# METADATA
# title: Vent terminal too low above the roof
# description: A vent ends high enough above the roof, and higher where people use the roof.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: terminal
#   quantity: length
#   message: "{subject} ends {measured} above the roof; {limit} or more is required"
#   remedy: "Extend the vent pipe above the roof."
#   rationale: "Snow or leaves close a low vent, and on a used roof people breathe what comes out of it."
#   needs: [height_above_roof, roof_used]
#   tables: [terminal.min_above_roof, terminal.min_above_used_roof]
#   status: stable
package rules.vent.terminal_too_low

import data.lib.judge

subject[t.id] := t if {
	some t in input.terminals
	t.kind == "roof_vent"
}

verdict[id] := judge.at_least(t.height_above_roof, limit) if {
	some id, t in subject
	t.roof_used == false
	limit := data.profile.terminal.min_above_roof
}

verdict[id] := judge.at_least(t.height_above_roof, limit) if {
	some id, t in subject
	t.roof_used == true
	limit := data.profile.terminal.min_above_used_roof
}
