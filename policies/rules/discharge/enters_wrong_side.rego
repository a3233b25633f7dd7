# METADATA
# title: Pumped line enters a drain from the wrong side
# description: A pumped line enters a horizontal drain from a permitted side.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: pumped line
#   message: "{subject} enters a horizontal drain from the {measured}; permitted: {limit}"
#   remedy: "Turn the fitting so that the line enters from the top."
#   rationale: "A low or side entry lets the drain flow back into the pumped line and leaves its solids there."
#   needs: [receiver_lie, entry]
#   tables: [discharge.entries]
#   status: stable
package rules.discharge.enters_wrong_side

import data.lib.judge

subject[d.id] := d if {
	some d in input.discharges
	not d.receiver_lie == "vertical"
}

verdict[id] := judge.one_of(d.entry, data.profile.discharge.entries) if {
	some id, d in subject
	d.receiver_lie == "horizontal"
}
