# METADATA
# title: All fixtures run at once
# description: All fixtures are run together before the work is covered.
# schemas:
#   - input: schema.facts
# custom:
#   level: note
#   subject: project
#   message: "{subject}: {detail}"
#   remedy: "Find the drain or vent that is short of air or fall and correct it."
#   rationale: "Faults of venting show only when several fixtures discharge together."
#   needs: []
#   tables: []
#   status: stable
package rules.field.fixtures_not_run_together

import data.lib.judge

subject[p.id] := p if p := input.project

verdict[id] := judge.person_decides("before cover, run all fixtures at once, listen for gurgling traps and look for leaks and water standing in the drains") if some id, _ in subject
