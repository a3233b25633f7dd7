# METADATA
# title: Backwater valve in the way of upper fixtures
# description: No fixture that stands above the next upstream manhole cover drains through a backwater valve. An existing building is exempt where the profile says so.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: backwater valve
#   quantity: count
#   message: "{subject} also takes {measured} fixtures above the next upstream manhole cover; {limit} may"
#   remedy: "Join the upper fixtures downstream of the valve."
#   rationale: "When the sewer closes the valve, what the upper floors send has nowhere to go but the low fixtures."
#   needs: [fixtures_above_manhole]
#   tables: ["backwater.existing_exempt?"]
#   status: stable
package rules.backwater.blocks_upper_floors

import data.lib.judge

subject[w.id] := w if some w in input.backwater_valves

exempt if {
	input.building.existing == true
	data.profile.backwater.existing_exempt == true
}

verdict[id] := judge.at_most(w.fixtures_above_manhole, 0) if {
	some id, w in subject
	not exempt
}

verdict[id] := judge.not_required("the building exists already") if {
	some id, _ in subject
	exempt
}
