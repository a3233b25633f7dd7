# METADATA
# title: Wiring of the pump
# description: A licensed electrician has done and checked the wiring of pump and alarm.
# schemas:
#   - input: schema.facts
# custom:
#   level: note
#   subject: project
#   message: "{subject}: {detail}"
#   remedy: "Have the wiring done and inspected by those licensed for it."
#   rationale: "Water and faulty wiring in one pit kill."
#   needs: []
#   tables: []
#   status: stable
package rules.field.wiring_not_inspected

import data.lib.judge

subject[p.id] := p if {
	p := input.project
	p.has_basin == true
}

verdict[id] := judge.person_decides("ask for the licensed electrician and the electrical inspection of the pump and alarm circuits: receptacle, protection against shock, disconnect") if some id, _ in subject
