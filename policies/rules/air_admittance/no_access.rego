# METADATA
# title: Air admittance valve out of reach
# description: The valve can be reached and stands where air can enter.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: air admittance valve
#   message: "{subject}: {measured}"
#   remedy: "Put the valve behind an access panel or grille that lets air in."
#   rationale: "The valve wears out. Nobody can change one that is walled in, and in a closed space it has no air to give."
#   needs: [accessible, air_can_enter]
#   tables: []
#   status: stable
package rules.air_admittance.no_access

import data.lib.judge

subject[v.id] := v if some v in input.air_admittance_valves

verdict[id] := judge.none(found) if some id, found in wrong

verdict[id] := judge.none([]) if {
	some id, v in subject
	v.accessible == true
	v.air_can_enter == true
}

wrong[id] contains "cannot be reached" if {
	some id, v in subject
	v.accessible == false
}

wrong[id] contains "no air can enter its space" if {
	some id, v in subject
	v.air_can_enter == false
}
