# METADATA
# title: Vent terminal that frost can close
# description: Where winter closes small vents with frost, a terminal is at least the size that stays open.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: terminal
#   quantity: size
#   message: "{subject} is {measured}; {limit} or larger is required where frost can close it"
#   remedy: "Enlarge the vent inside the warm part of the building, well below the roof."
#   rationale: "Moist air freezes on the cold pipe and closes it when the house needs it most."
#   needs: [frost_closure, dn]
#   tables: [terminal.frost_min_size]
#   status: stable
package rules.vent.terminal_too_small_for_frost

import data.lib.judge

subject[t.id] := t if {
	some t in input.terminals
	not t.frost_closure == false
}

verdict[id] := judge.at_least(t.dn, limit) if {
	some id, t in subject
	t.frost_closure == true
	limit := data.profile.terminal.frost_min_size
}
