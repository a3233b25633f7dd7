# METADATA
# title: No vent reaches the open air
# description: At least one vent of a building reaches the open air. Where the work is in an existing building, a person looks for the vent that is there.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: building
#   quantity: count
#   message: "the design has {measured} vents to the open air; {limit} or more is required"
#   remedy: "Carry at least one vent through the roof."
#   rationale: "Valves let air in but nothing out: pressure from the sewer then pushes through the lowest trap."
#   needs: []
#   tables: []
#   status: stable
package rules.vent.none_to_open_air

import data.lib.judge

subject[b.id] := b if {
	b := input.building
	b.fixtures > 0
}

existing := object.get(input.building, "existing", false)

verdict[id] := judge.at_least(b.open_air_vents, 1) if {
	some id, b in subject
	existing == false
}

verdict[id] := judge.at_least(b.open_air_vents, 1) if {
	some id, b in subject
	b.open_air_vents > 0
}

verdict[id] := judge.person_decides("see that the existing building has a vent to the open air on the same drain") if {
	some id, b in subject
	b.open_air_vents == 0
	existing == true
}
