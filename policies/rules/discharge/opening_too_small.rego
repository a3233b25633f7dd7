# METADATA
# title: Line of a cutting pump too small
# description: The line of a grinder or macerating pump has at least the required opening.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: pumped line
#   quantity: length
#   message: "{subject} opens {measured}; {limit} or more is required"
#   remedy: "Use a larger pipe, at least of the size that the pump maker states."
#   rationale: "Even ground sewage packs in a pipe that is too thin for it."
#   needs: [pump_kind, opening]
#   tables: [discharge.min_opening_grinder, discharge.min_opening_macerating]
#   status: stable
package rules.discharge.opening_too_small

import data.lib.judge

subject[d.id] := d if {
	some d in input.discharges
	not d.pump_kind == "solids_handling"
	not d.pump_kind == "effluent"
}

verdict[id] := judge.at_least(d.opening, data.profile.discharge.min_opening_grinder) if {
	some id, d in subject
	d.pump_kind == "grinder"
}

verdict[id] := judge.at_least(d.opening, data.profile.discharge.min_opening_macerating) if {
	some id, d in subject
	d.pump_kind == "macerating"
	d.water_closets == 1
}

verdict[id] := judge.person_decides("a macerating unit is meant for one water closet: see its listing") if {
	some id, d in subject
	d.pump_kind == "macerating"
	d.water_closets != 1
}
