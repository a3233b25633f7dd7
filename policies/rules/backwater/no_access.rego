# METADATA
# title: Backwater valve that cannot be reached
# description: A backwater valve can be reached for service.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: backwater valve
#   message: "{subject} cannot be reached for service"
#   remedy: "Set the valve in an access pit with a cover that opens."
#   rationale: "Its flap fouls: a valve that nobody cleans does not close when it should."
#   needs: [accessible]
#   tables: []
#   status: stable
package rules.backwater.no_access

import data.lib.judge

subject[w.id] := w if some w in input.backwater_valves

verdict[id] := judge.is_true(w.accessible) if some id, w in subject
