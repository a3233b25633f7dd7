# METADATA
# title: No air relief hole before the check valve
# description: Between pump and check valve there is a relief hole of at least the usual size.
# schemas:
#   - input: schema.facts
# custom:
#   level: note
#   subject: pump
#   quantity: length
#   message: "{subject} has no air relief hole of {limit} or more between pump and check valve"
#   remedy: "Drill the hole that the maker shows, in the pipe below the cover and clear of the check valve."
#   rationale: "Air trapped in the pump under a closed check valve lets it spin without lifting a drop."
#   needs: [relief_hole]
#   tables: [pump.relief_hole_size]
#   status: stable
package rules.pump.relief_hole_missing

import data.lib.judge

subject[p.id] := p if {
	some p in input.pumps
	p.has_check_valve
}

verdict[id] := judge.at_least(p.relief_hole, data.profile.pump.relief_hole_size) if {
	some id, p in subject
	p.has_relief_hole == true
}

verdict[id] := judge.at_least(0, data.profile.pump.relief_hole_size) if {
	some id, p in subject
	p.has_relief_hole == false
}
