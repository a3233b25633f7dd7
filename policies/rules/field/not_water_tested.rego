# METADATA
# title: Water test before cover
# description: The drains are filled and stay full before anything is covered.
# schemas:
#   - input: schema.facts
# custom:
#   level: note
#   subject: project
#   message: "{subject}: {detail}"
#   remedy: "Test, mend what leaks, and test again before cover."
#   rationale: "A leak under a slab washes out the bedding and lets sewer gas in; it is found years later."
#   needs: []
#   tables: []
#   status: stable
package rules.field.not_water_tested

import data.lib.judge

subject[p.id] := p if p := input.project

verdict[id] := judge.person_decides("fill the drains and vents with water to the head the authority asks for, and see that the level holds, before they are covered") if some id, _ in subject
