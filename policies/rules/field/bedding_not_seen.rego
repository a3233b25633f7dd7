# METADATA
# title: Bedding and support of buried pipe
# description: Buried pipe lies on even, firm bedding along its whole length.
# schemas:
#   - input: schema.facts
# custom:
#   level: note
#   subject: project
#   message: "{subject}: {detail}"
#   remedy: "Rebed any pipe that bridges, hangs or rests on stones."
#   rationale: "A pipe that settles between supports turns its fall into a sag, and a stone works through its wall."
#   needs: []
#   tables: []
#   status: stable
package rules.field.bedding_not_seen

import data.lib.judge

subject[p.id] := p if {
	p := input.project
	p.has_buried == true
}

verdict[id] := judge.person_decides("see that buried pipe lies on firm, stone-free bedding along its length, that hubs have their own holes, and that the first layers of fill are placed by hand") if some id, _ in subject
