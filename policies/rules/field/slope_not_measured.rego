# METADATA
# title: Fall measured with a level
# description: The fall of each drain as laid is measured before cover.
# schemas:
#   - input: schema.facts
# custom:
#   level: note
#   subject: project
#   message: "{subject}: {detail}"
#   remedy: "Shim or rebed the drains that do not fall as drawn."
#   rationale: "The drawing may be right and the pipe still back-pitched by one lump of earth."
#   needs: []
#   tables: []
#   status: stable
package rules.field.slope_not_measured

import data.lib.judge

subject[p.id] := p if p := input.project

verdict[id] := judge.person_decides("lay a level on each horizontal drain and compare its fall with the drawing, at both ends and at every joint") if some id, _ in subject
