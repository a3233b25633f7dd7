# METADATA
# title: Distance from a well is not on the design
# description: A sump keeps its distance from water wells; a person measures it.
# schemas:
#   - input: schema.facts
# custom:
#   level: note
#   subject: project
#   message: "{subject}: {detail}"
#   remedy: "Move the sump, or have the distance approved."
#   rationale: "A leaking sump near a well puts sewage into the drinking water."
#   needs: []
#   tables: []
#   status: stable
package rules.field.well_distance_not_measured

import data.lib.judge

subject[p.id] := p if {
	p := input.project
	p.has_basin == true
}

verdict[id] := judge.person_decides("measure from the sump to the nearest water well, on this property and the next: the code states the least distance") if some id, _ in subject
