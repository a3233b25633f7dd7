# METADATA
# title: Pumped line too small
# description: The line of a pump that does not cut solids has at least the required size, larger where water closets drain to it.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: pumped line
#   quantity: size
#   message: "{subject} is {measured}; {limit} or more is required for what its pump sends"
#   remedy: "Use a larger pipe."
#   rationale: "Whole solids need a pipe they can turn in; in a small one they pack."
#   needs: [pump_kind, dn]
#   tables: [discharge.min_size_with_closet, discharge.min_size_other]
#   status: stable
package rules.discharge.too_small

import data.lib.judge

subject[d.id] := d if {
	some d in input.discharges
	not d.pump_kind == "grinder"
	not d.pump_kind == "macerating"
}

verdict[id] := judge.at_least(d.dn, data.profile.discharge.min_size_with_closet) if {
	some id, d in subject
	d.pump_kind in {"solids_handling", "effluent"}
	d.water_closets != 0
}

verdict[id] := judge.at_least(d.dn, data.profile.discharge.min_size_other) if {
	some id, d in subject
	d.pump_kind in {"solids_handling", "effluent"}
	d.water_closets == 0
}
