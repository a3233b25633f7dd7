# METADATA
# title: Pumped line too small for its building
# description: A line that carries water closets has at least the size required for the use of the building.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: pumped line
#   quantity: size
#   message: "{subject} is {measured}; {limit} or more is required in this use of building"
#   remedy: "Use a larger pipe."
#   rationale: "Public fixtures send more, and larger, things down the pipe than those of a home."
#   needs: [pump_kind, dn, building_use]
#   tables: [discharge.min_size_by_use]
#   status: stable
package rules.discharge.too_small_for_use

import data.lib.judge

subject[d.id] := d if {
	some d in input.discharges
	d.water_closets != 0
	not d.pump_kind == "grinder"
	not d.pump_kind == "macerating"
}

verdict[id] := judge.at_least(d.dn, data.profile.discharge.min_size_by_use[d.building_use]) if {
	some id, d in subject
	d.pump_kind in {"solids_handling", "effluent"}
}
