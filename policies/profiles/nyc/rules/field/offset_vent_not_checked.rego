# METADATA
# title: Vent of a stack's offset is not on the design
# description: A horizontal offset of a high stack is vented; a person sees to it.
# schemas:
#   - input: schema.facts
# custom:
#   level: note
#   subject: stack
#   message: "{subject}: {detail}"
#   remedy: "Vent the offset above and below."
#   rationale: "Water that turns at an offset piles up: the branch above it is blown, the one below sucked."
#   needs: []
#   tables: [vent.offset_from_intervals]
#   status: stable
package rules.field.offset_vent_not_checked

import data.lib.judge

# A building has at least as many storeys as a stack has intervals.
subject[d.id] := d if {
	some d in input.drains
	d.role == "stack"
	not low(d)
}

low(d) if d.branch_intervals < data.profile.vent.offset_from_intervals

low(_) if input.building.storeys < data.profile.vent.offset_from_intervals

verdict[id] := judge.person_decides("see whether the stack is offset below five branch intervals or more, and if so that the offset is vented") if {
	some id, _ in subject
}
