# METADATA
# title: Valve of a pumped line out of reach
# description: Each valve of a pumped line can be reached and stands in a permitted place.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: valve
#   message: "{subject}: {measured}"
#   remedy: "Put the valve above the cover, or in an access pit beside the basin."
#   rationale: "A stuck check valve must be opened; nobody should climb into a sewage pit or break a floor for it."
#   needs: [accessible, place]
#   tables: [discharge.valve_places]
#   status: stable
package rules.discharge.valve_not_accessible

import data.lib.judge

subject[v.id] := v if some v in input.valves

verdict[id] := judge.none(found) if some id, found in wrong

verdict[id] := judge.none([]) if {
	some id, v in subject
	v.accessible == true
	v.place in data.profile.discharge.valve_places
}

wrong[id] contains "cannot be reached" if {
	some id, v in subject
	v.accessible == false
}

wrong[id] contains "does not stand in a permitted place" if {
	some id, v in subject
	place := v.place
	not place in data.profile.discharge.valve_places
}
