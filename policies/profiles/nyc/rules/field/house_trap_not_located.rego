# METADATA
# title: Place of the house trap is not on the design
# description: A pumped line joins the drainage downstream of the house trap; a person sees to it.
# schemas:
#   - input: schema.facts
# custom:
#   level: note
#   subject: project
#   message: "{subject}: {detail}"
#   remedy: "Carry the line past the house trap."
#   rationale: "Pumped flow that meets a house trap blows its water out, or backs up behind it into the cellar."
#   needs: []
#   tables: []
#   status: stable
package rules.field.house_trap_not_located

import data.lib.judge

subject[p.id] := p if {
	p := input.project
	p.has_pumped == true
}

verdict[id] := judge.person_decides("see that the pumped line joins downstream of the building's house trap, where there is one") if some id, _ in subject
