# METADATA
# title: Relief vent of a circuit vent is not on the design
# description: A circuit-vented branch with many water closets has a relief vent where its stack takes waste from above; a person sees to it.
# schemas:
#   - input: schema.facts
# custom:
#   level: note
#   subject: drain
#   message: "{subject}: {detail}"
#   remedy: "Add a relief vent, or carry the branch to a stack that takes nothing from above."
#   rationale: "Closets on a full branch push air into the stack and meet what falls from above; without relief the traps between them go."
#   needs: []
#   tables: [circuit_vent.relief_from_closets]
#   status: stable
package rules.field.relief_vent_not_checked

import data.lib.judge

subject[w.id] := w if {
	some w in input.wet_vents
	w.kind == "circuit"
	w.water_closets_upstream >= data.profile.circuit_vent.relief_from_closets
}

verdict[id] := judge.person_decides("see whether its stack takes waste from above, and if so that a relief vent stands before the stack") if {
	some id, _ in subject
}
