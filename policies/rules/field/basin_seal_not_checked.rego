# METADATA
# title: Gas-tight seal of the basin
# description: The cover and every pipe and cord through it are sealed.
# schemas:
#   - input: schema.facts
# custom:
#   level: note
#   subject: project
#   message: "{subject}: {detail}"
#   remedy: "Replace the gasket or grommet that leaks."
#   rationale: "A cover that breathes fills the room with sewer gas each time the pump stops."
#   needs: []
#   tables: []
#   status: stable
package rules.field.basin_seal_not_checked

import data.lib.judge

subject[p.id] := p if {
	p := input.project
	p.has_basin == true
}

verdict[id] := judge.person_decides("see that the basin cover is bolted on its gasket and that each pipe and cord through it is sealed, and that no smell comes from it") if some id, _ in subject
