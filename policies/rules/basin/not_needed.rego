# METADATA
# title: Fixture pumped although it could fall
# description: A basin takes only fixtures that cannot reach the sewer by gravity, except in an existing building.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: basin
#   quantity: count
#   message: "{subject} takes {measured} fixtures that could drain by gravity"
#   remedy: "Drain those fixtures by gravity and pump only the rest."
#   rationale: "Every fixture on the pump stands still in a power cut; those that can fall need not."
#   needs: [fixtures_that_could_fall]
#   tables: []
#   status: stable
package rules.basin.not_needed

import data.lib.judge

subject[b.id] := b if some b in input.basins

verdict[id] := judge.at_most(b.fixtures_that_could_fall, 0) if {
	some id, b in subject
	b.fixtures_that_could_fall == 0
}

verdict[id] := judge.at_most(b.fixtures_that_could_fall, 0) if {
	some id, b in subject
	b.fixtures_that_could_fall != 0
	input.building.existing == false
}

verdict[id] := judge.not_required("the building exists already") if {
	some id, b in subject
	b.fixtures_that_could_fall != 0
	input.building.existing == true
}
