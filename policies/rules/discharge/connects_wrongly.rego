# METADATA
# title: Pumped line joins by the wrong fitting
# description: A pumped line joins a horizontal drain, or a stack, by a fitting permitted there.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: pumped line
#   message: "{subject} joins a {fact:receiver_lie} drain by a {measured}; permitted: {limit}"
#   remedy: "Join by a permitted fitting, on a horizontal drain a wye."
#   rationale: "A square entry throws the jet across the drain and sends it back up the branch."
#   needs: [receiver_lie, fitting]
#   tables: [discharge.fittings, "discharge.fittings_vertical?"]
#   status: stable
package rules.discharge.connects_wrongly

import data.lib.judge

subject[d.id] := d if some d in input.discharges

verdict[id] := judge.one_of(d.fitting, data.profile.discharge.fittings) if {
	some id, d in subject
	d.receiver_lie == "horizontal"
}

verdict[id] := judge.one_of(d.fitting, data.profile.discharge.fittings_vertical) if {
	some id, d in subject
	d.receiver_lie == "vertical"
}
