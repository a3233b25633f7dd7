# METADATA
# title: No check valve in a pumped line
# description: A pumped line has a check valve.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: pumped line
#   message: "{subject} has no check valve"
#   remedy: "Fit a check valve between the pump and the shutoff valve."
#   rationale: "Without it the whole line runs back at every stop, and the pump starts again and again on the same water."
#   needs: [has_check_valve]
#   tables: []
#   status: stable
package rules.discharge.check_valve_missing

import data.lib.judge

subject[d.id] := d if some d in input.discharges

verdict[id] := judge.is_true(d.has_check_valve) if some id, d in subject
