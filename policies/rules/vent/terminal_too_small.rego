# METADATA
# title: Vent terminal too small
# description: A vent terminal is at least the size that the jurisdiction asks for.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: terminal
#   quantity: size
#   message: "{subject} is {measured}; {limit} or larger is required"
#   remedy: "Enlarge the vent inside the building before it passes through the roof."
#   rationale: "A narrow terminal is the first part of a vent to close with frost, leaves or nests."
#   needs: [dn]
#   tables: [terminal.min_size]
#   status: stable
package rules.vent.terminal_too_small

import data.lib.judge

subject[t.id] := t if some t in input.terminals

verdict[id] := judge.at_least(t.dn, limit) if {
	some id, t in subject
	limit := data.profile.terminal.min_size
}
