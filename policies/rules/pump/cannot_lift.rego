# METADATA
# title: Pump cannot lift to its outlet
# description: The pump curve meets the curve of its line.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: pump
#   message: "{subject} cannot lift against the head of its line"
#   remedy: "Use a pump with more head, or lower the lift and the friction."
#   rationale: "The pump runs, moves nothing, overheats and the basin overflows."
#   needs: [cannot_lift]
#   tables: []
#   status: stable
package rules.pump.cannot_lift

import data.lib.judge

subject[p.id] := p if some p in input.pumps

verdict[id] := judge.is_false(p.cannot_lift) if some id, p in subject
