# METADATA
# title: Air admittance valve not accepted
# description: The jurisdiction accepts air admittance valves.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: air admittance valve
#   message: "{subject} is an air admittance valve, which is not accepted here"
#   remedy: "Run the vent to the open air, or ask the authority before you order the valve."
#   rationale: "Where the authority does not accept the valve the work is turned down after the walls are closed."
#   needs: []
#   tables: [air_admittance.accepted]
#   status: stable
package rules.air_admittance.not_accepted

import data.lib.judge

# The table holds true, false or the word with_approval.
subject[v.id] := v if some v in input.air_admittance_valves

verdict[id] := judge.is_true(data.profile.air_admittance.accepted) if some id, _ in subject

verdict[id] := judge.person_decides("accepted only with the approval of the authority: show it") if {
	some id, _ in subject
	data.profile.air_admittance.accepted == "with_approval"
}
