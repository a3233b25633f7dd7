# METADATA
# title: Basin not vented
# description: A basin has a vent to the open air; an engineered design may end it otherwise.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: basin
#   message: "{subject} has no vent to the open air"
#   remedy: "Run a vent from the basin to the open air."
#   rationale: "Each gallon in pushes a gallon of gas out. Without a vent it goes through the trap seals."
#   needs: [vent_ends_at]
#   tables: []
#   status: stable
package rules.basin.not_vented

import data.lib.judge

subject[b.id] := b if some b in input.basins

verdict[id] := judge.is_true(b.has_vent) if {
	some id, b in subject
	b.has_vent == false
}

verdict[id] := judge.same(b.vent_ends_at, "open_air") if {
	some id, b in subject
	b.has_vent == true
	b.engineered_vent == false
}

verdict[id] := judge.one_of(b.vent_ends_at, ["open_air", "air_admittance_valve"]) if {
	some id, b in subject
	b.has_vent == true
	b.engineered_vent == true
}
