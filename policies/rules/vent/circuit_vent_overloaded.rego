# METADATA
# title: Too many fixtures on a circuit-vented branch
# description: A circuit-vented branch carries no more fixtures than allowed.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: circuit-vented drain
#   quantity: count
#   message: "{subject} carries {measured} fixtures; {limit} is the most on one circuit vent"
#   remedy: "Split the branch and give each part its own circuit vent."
#   rationale: "One vent at the head cannot bring air to a long row of traps."
#   needs: []
#   tables: [circuit_vent.max_fixtures]
#   status: stable
package rules.vent.circuit_vent_overloaded

import data.lib.judge

subject[w.id] := w if {
	some w in input.wet_vents
	w.kind == "circuit"
}

verdict[id] := judge.at_most(w.fixtures_on_line, limit) if {
	some id, w in subject
	limit := data.profile.circuit_vent.max_fixtures
}
